// What stands behind the voltage of a supply: network, transformer, rotating generator.
#pragma once

#include <optional>

#include "electrical/phasor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// Voltage factors of the fault calculation, by how far the network's voltage may rise.
struct VoltageFactors {
  double most;   ///< c max
  double least;  ///< c min
};

/// Networks up to 1000 V. The 2016 edition's 0.90 is taken for c min where +10 % is allowed; the
/// 2001 edition had 0.95 for both. Source: IEC 60909-0:2016, Table 1 (from memory).
inline constexpr VoltageFactors plus_10_percent{1.10, 0.90};
inline constexpr VoltageFactors plus_6_percent{1.05, 0.95};

/// An impedance of this size whose reactance is so many times its resistance.
Impedance impedance(Resistance size, double x_over_r);

struct DeclaredNetwork {
  Voltage line_voltage;  ///< Nominal, line to line, > 0.
  Current three_phase;   ///< Prospective three-phase current, > 0.
  double x_over_r;       ///< >= 0; about 10 for a network seen from medium voltage.
  double c;              ///< Voltage factor that the declaration was made with, > 0.
};

/// A network behind its declared fault current.
///     Z = c Un / (sqrt(3) Ik)
/// Fails when an input is outside the range beside it.
/// Source: IEC 60909-0, network feeders.
Result<Impedance> network_impedance(const DeclaredNetwork& in);

struct Transformer {
  Voltage line_voltage;   ///< Of the winding that feeds, at no load, > 0.
  ApparentPower rated;    ///< > 0.
  double short_circuit;   ///< Short-circuit voltage, 0.04 for 4 %, > 0 and < 1.
  ActivePower load_loss;  ///< At rated current, >= 0; zero if not known.
  double c_max;           ///< Of the side that feeds; 1 leaves the correction out.
};

/// A network transformer seen from the side that feeds.
///     Z = u U^2 / S,  R = P U^2 / S^2,  X = sqrt(Z^2 - R^2),  K = 0.95 c / (1 + 0.6 x),  K (R +
///     jX)
/// With `c_max` of 1 the correction K is left out, as simpler guides do.
/// Fails when an input is outside the range beside it, or the losses are more than the impedance.
/// Source: IEC 60909-0, two-winding transformers and impedance correction factor (from memory).
Result<Impedance> transformer_impedance(const Transformer& in);

struct Machine {
  Voltage line_voltage;  ///< > 0
  ApparentPower rated;   ///< Three phases together, > 0.
  double reactance;      ///< In per unit: x"d at once, x'd after a quarter second, xd at last; > 0.
};

/// A generator at one moment of the fault.
///     X = x U^2 / S,  R = 0.15 X
/// Fails when an input is outside the range beside it.
/// Valid for: generators up to 1000 V (the share of R).
/// Source: IEC 60909-0, synchronous generators (from memory).
Result<Impedance> machine_impedance(const Machine& in);

/// What a machine drives into a short at its terminals by the plain rule, I = In / x.
/// Source: generator guides; lower than with the impedance above by its share of R, 1.1 %.
Result<Current> machine_current(const Machine& in);

/// What a set declares of its steady fault current.
struct SteadyMachine {
  Current rated;
  std::optional<double> boost;  ///< Multiple of the rated current, with boost or its own exciter.
  std::optional<double> synchronous;  ///< xd in per unit, saturated; used if there is no boost.
};

/// The current that remains after the first seconds: boost x In, or In / xd; nothing if neither is
/// declared. A set without boost often ends below its rated current, so that no breaker operates.
/// Source: generator guides (boost about 3 for 5 to 10 s, without it 0.3 to 0.5; from memory).
std::optional<Current> steady_current(const SteadyMachine& in);

/// Rated current of a line: S / (sqrt(3) U).
Current rated_current(ApparentPower three_phase, Voltage line_voltage);

}  // namespace linewright::electrical
