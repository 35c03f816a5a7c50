#include "electrical/battery.hpp"

namespace linewright::electrical {

Result<Current> battery_current(ActivePower power, double efficiency, Voltage lowest) {
  if (!(efficiency > 0.0 && efficiency <= 1.0))
    return fail("an efficiency lies above 0 and up to 1");
  if (!(lowest.si > 0.0)) return fail("a voltage must be above 0");
  return power.base / (efficiency * lowest);
}

std::optional<Current> battery_fault(std::span<const BatteryStack> stacks, Resistance cable) {
  Current short_at_terminals{};
  Conductance inside{};
  for (const BatteryStack& stack : stacks) {
    if (!stack.open_circuit || !stack.resistance || !(stack.resistance->si > 0.0))
      return std::nullopt;
    short_at_terminals += *stack.open_circuit / *stack.resistance;
    inside += 1.0 / *stack.resistance;
  }
  return short_at_terminals / (1.0 + inside * cable);
}

BatteryFuseCheck battery_fuse(const BatteryFuse& in) {
  std::optional<Current> needed;
  if (in.service) needed = 1.25 * *in.service;
  return {at_most(needed, in.rated), at_most(in.rated, in.cable_capacity),
          at_most(in.prospective, in.breaks)};
}

Result<Voltage> direct_current_drop(const DirectCurrentRun& run) {
  if (!(run.resistivity.si >= 0.0)) return fail("a resistivity is not below 0");
  if (!(run.length.si >= 0.0)) return fail("a length is not below 0");
  if (!(run.cross_section.si > 0.0)) return fail("a cross-section must be above 0");
  if (!(run.current.si >= 0.0)) return fail("a current is not below 0");
  return 2.0 * (run.resistivity * run.length / run.cross_section) * run.current;
}

}  // namespace linewright::electrical
