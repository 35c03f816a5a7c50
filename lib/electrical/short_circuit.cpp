#include "electrical/short_circuit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linewright::electrical {

using std::numbers::sqrt2;
using std::numbers::sqrt3;

Current three_phase_fault(double c, Voltage line_voltage, Impedance of_one_line) {
  return c * line_voltage / (sqrt3 * magnitude(of_one_line));
}

Current line_to_line_fault(double c, Voltage line_voltage, Impedance of_one_line) {
  return sqrt3 / 2.0 * three_phase_fault(c, line_voltage, of_one_line);
}

CurrentPhasor loop_fault(double c, Voltage line_to_neutral, Impedance loop) {
  return VoltagePhasor{c * line_to_neutral, {}} / loop;
}

CurrentPhasor fault_of_sources(std::span<const FeedingSource> sources) {
  CurrentPhasor sum;
  for (const FeedingSource& source : sources)
    sum += source.voltage / source.impedance;
  return sum;
}

FeedingSource combined(std::span<const FeedingSource> sources) {
  Phasor<Conductance> admittance;
  for (const FeedingSource& source : sources)
    admittance += Phasor<double>{1.0, 0.0} / source.impedance;
  const Impedance together = Phasor<double>{1.0, 0.0} / admittance;
  return {fault_of_sources(sources) * together, together};
}

double peak_factor(Impedance of_the_fault) {
  if (!(of_the_fault.im.si > 0.0)) return 1.02;
  return 1.02 + 0.98 * std::exp(-3.0 * (of_the_fault.re / of_the_fault.im));
}

Current peak_current(Current symmetrical, Impedance of_the_fault) {
  return peak_factor(of_the_fault) * sqrt2 * symmetrical;
}

Bounds<Current> with_converters(CurrentPhasor machines, Bounds<Current> converters) {
  const Current sure = magnitude(machines);
  return {std::max(sure, converters.least), sure + converters.most};
}

Bounds<Current> converter_current(const ConverterFault& converter, Time for_this_long) {
  const bool sure = converter.lasts && *converter.lasts >= for_this_long;
  return {sure ? converter.multiple.least * converter.rated : Current{},
          converter.multiple.most * converter.rated};
}

Judgement breaks(const BreakingInput& in) {
  if (!in.prospective) return Judgement::unknown;
  if (in.own && *in.prospective <= *in.own) return Judgement::holds;
  for (const ConditionalRating& pair : in.published) {
    if (!in.back_up.empty() && pair.back_up == in.back_up)
      return judged(*in.prospective <= pair.breaks);
  }
  return in.own && in.back_up.empty() ? Judgement::fails : Judgement::unknown;
}

}  // namespace linewright::electrical
