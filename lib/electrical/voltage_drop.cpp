#include "electrical/voltage_drop.hpp"

#include <algorithm>
#include <cmath>

namespace linewright::electrical {

Result<Voltage> voltage_drop(const VoltageDropInput& in) {
  if (!(in.resistivity.si > 0.0)) return fail("a resistivity must be above 0");
  if (!(in.length.si >= 0.0)) return fail("a length is not below 0");
  if (!(in.cross_section.si > 0.0)) return fail("a cross-section must be above 0");
  if (!(in.reactance.si >= 0.0)) return fail("a reactance is not below 0");
  if (!(in.cos_phi >= 0.0 && in.cos_phi <= 1.0)) return fail("cos phi lies within 0 and 1");
  if (!(in.current.si >= 0.0)) return fail("a current is not below 0");
  const double b = in.phases == Phases::one ? 2.0 : 1.0;
  const double sin_phi = std::sqrt(1.0 - in.cos_phi * in.cos_phi);
  const Resistance r = in.resistivity * in.length / in.cross_section;
  const Resistance x = in.reactance * in.length;
  return b * (r * in.cos_phi + x * sin_phi) * in.current;
}

RunDrops unbalanced_drops(const RunLoad& run) {
  const auto& i = run.currents;
  const VoltagePhasor neutral = run.neutral * (i[0] + i[1] + i[2]);
  return {{run.line * i[0] + neutral, run.line * i[1] + neutral, run.line * i[2] + neutral},
          neutral};
}

double relative_drop(VoltagePhasor sending, VoltagePhasor receiving) {
  const Voltage from = magnitude(sending);
  return (from - magnitude(receiving)) / from;
}

Result<double> drop_limit(SupplyKind supply, LoadKind load, Length length) {
  if (!(length.si >= 0.0)) return fail("a length is not below 0");
  const double base = load == LoadKind::lighting ? 0.03 : 0.05;
  const double beyond = std::max(0.0, length.in(unit::metre)-100.0);
  return base + (supply == SupplyKind::private_supply ? 0.03 : 0.0) +
         std::min(0.005, 0.00005 * beyond);
}

}  // namespace linewright::electrical
