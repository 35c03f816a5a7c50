// What the start of a motor does to the source: dip of the voltage, and load on top of the rest.
#pragma once

#include <span>

#include "electrical/phasor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

struct MotorStart {
  Voltage to_neutral;       ///< Before the start, > 0.
  Impedance source;         ///< Of one line up to the motor; of a generator its transient one.
  Current at_full_voltage;  ///< Starting current at rated voltage, > 0.
  double cos_phi;           ///< Of the standing motor, 0..1; about 0.3.
};

/// The share by which the voltage falls while the motor stands.
///     Zm = U0 / Ist,  dip = 1 - |Zm / (Zm + Z)|
/// Fails when an input is outside the range beside it.
/// Valid for: no regulator has acted yet, nothing else loads the source.
/// Source: voltage divider; the starting current falls with the voltage.
Result<double> start_dip(const MotorStart& in);

/// A load by what it draws in service and while it starts.
struct StartingLoad {
  ApparentPower running;
  ApparentPower starting;  ///< Not below running.
};

/// The most that is drawn when one load starts while all the others run.
///     max over k of (sum of the others running + starting_k)
/// Sizes are added as if in step, which is never too little.
ApparentPower highest_with_one_start(std::span<const StartingLoad> loads);

}  // namespace linewright::electrical
