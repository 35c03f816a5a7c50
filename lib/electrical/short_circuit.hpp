// Fault currents from impedances, their sum over sources, and what they do to equipment.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "electrical/judgement.hpp"
#include "electrical/phasor.hpp"

namespace linewright::electrical {

/// Initial symmetrical current of a fault of all three lines.
///     Ik = c Un / (sqrt(3) |Z|)
/// Source: IEC 60909-0, three-phase short circuit. Infinite for an impedance of zero.
Current three_phase_fault(double c, Voltage line_voltage, Impedance of_one_line);

/// Between two lines: sqrt(3)/2 of the current of all three.
/// Valid for: far from machines, positive and negative sequence alike.
/// Source: IEC 60909-0, line-to-line short circuit.
Current line_to_line_fault(double c, Voltage line_voltage, Impedance of_one_line);

/// Line to neutral or to earth, around the whole loop there and back.
///     Ik = c U0 / |Z loop|
CurrentPhasor loop_fault(double c, Voltage line_to_neutral, Impedance loop);

/// A source that feeds a fault: its voltage behind all that lies between it and the fault.
struct FeedingSource {
  VoltagePhasor voltage;
  Impedance impedance;
};

/// The current of several sources into one fault, each over its own way.
/// Valid for: ways that share nothing but the fault; what they share is first put behind one
/// voltage with `combined`.
/// Source: superposition.
CurrentPhasor fault_of_sources(std::span<const FeedingSource> sources);

/// Several sources in parallel at a node as one: the voltage there without load, and the
/// impedances in parallel. Not a number for none.
/// Source: parallel sources (Millman).
FeedingSource combined(std::span<const FeedingSource> sources);

/// What the peak is above the root mean square of the symmetrical current.
///     kappa = 1.02 + 0.98 exp(-3 R/X),  ip = kappa sqrt(2) Ik
/// Between 1.02 (resistance alone) and 2 (reactance alone).
/// Source: IEC 60909-0, peak short-circuit current.
double peak_factor(Impedance of_the_fault);
Current peak_current(Current symmetrical, Impedance of_the_fault);

/// What inverters add to the sum of all that has an impedance. Their angle is not known: at most
/// they add in line, at least they stand across it, since they feed the fault and do not draw
/// from it; and they may have stopped. With nothing else they are all there is.
/// Source: triangle inequality; limited currents as IEC 60909-0:2016 treats converters.
Bounds<Current> with_converters(CurrentPhasor machines, Bounds<Current> converters);

/// How an inverter feeds a fault, in multiples of its rated current: what its maker declares.
struct ConverterFault {
  Current rated;
  Bounds<double> multiple;    ///< Least and most while it lasts.
  std::optional<Time> lasts;  ///< Until it shuts down; nothing if not declared.
};

/// The current that surely flows for this time and the most that can: nothing sure if it may have
/// stopped before, or nobody says how long it lasts.
Bounds<Current> converter_current(const ConverterFault& converter, Time for_this_long);

/// A published pair: what a device breaks with this one upstream.
struct ConditionalRating {
  std::string back_up;
  Current breaks;
};

struct BreakingInput {
  std::optional<Current> own;                    ///< Icn or Icu at the voltage there.
  std::span<const ConditionalRating> published;  ///< Of this device, from its maker.
  std::string_view back_up;                      ///< What stands upstream; empty: nothing does.
  std::optional<Current> prospective;            ///< The most that can flow through it.
};

/// Whether a device breaks what can flow. With a device upstream whose pair nobody has published
/// it is unknown, not failed: only the maker can tell.
/// Source: IEC 60364-4-43:2008, 434.5.1.
Judgement breaks(const BreakingInput& in);

}  // namespace linewright::electrical
