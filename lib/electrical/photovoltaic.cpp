#include "electrical/photovoltaic.hpp"

#include <cmath>
#include <limits>

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

// No roof has more; beyond it an int could not hold the number.
constexpr double most_modules = 100000.0;
// A whole number that was missed by rounding is still whole.
constexpr double rounding = 1e-9;

template <class Q>
std::optional<Q> scaled(double factor, const std::optional<Q>& size) {
  if (!size) return std::nullopt;
  return factor * *size;
}

Result<int> whole(double modules) {
  if (!(modules >= 0.0 && modules <= most_modules)) return fail("no string has so many modules");
  return static_cast<int>(modules);
}

}  // namespace

const StringFuseRule iec_62548{1.0, 1.0, 1.5, 2.4};
const StringFuseRule iec_60364_7_712{1.25, 1.35, 1.1 * 1.25,
                                     std::numeric_limits<double>::infinity()};

Voltage at_cell_temperature(Voltage at_standard_test, PerKelvin coefficient, Celsius cell) {
  return at_standard_test * (1.0 + coefficient * (cell - standard_test));
}

Result<double> cold_voltage_factor(Celsius lowest) {
  static const std::vector<Row> rows = table("electrical/cold_voltage.csv");
  for (const Row& row : rows) {
    const auto degrees = number(row[0]);
    const auto factor = number(row[1]);
    if (degrees && factor && lowest.degrees >= *degrees) return *factor;
  }
  return fail(fmt::format("IEC 62548 gives no factor for {:g} °C", lowest.degrees));
}

Result<int> most_in_series(Voltage limit, Voltage cold_module) {
  if (!(cold_module.si > 0.0)) return fail("a module's voltage must be above 0");
  return whole(std::floor(limit / cold_module + rounding));
}

Result<int> fewest_in_series(Voltage lowest, Voltage hot_module) {
  if (!(hot_module.si > 0.0)) return fail("a module's voltage must be above 0");
  return whole(std::ceil(lowest / hot_module - rounding));
}

Current reverse_current(int strings, Current short_circuit) {
  return (strings > 1 ? strings - 1.0 : 0.0) * short_circuit;
}

Judgement safe_without_fuses(const StringFuseRule& rule, int strings,
                             std::optional<Current> short_circuit,
                             std::optional<Current> module_fuse) {
  if (strings <= 2) return Judgement::holds;
  const double others = strings - 1.0;
  return at_most(scaled(others * rule.current, short_circuit), scaled(rule.module, module_fuse));
}

Judgement string_fuse_fits(const StringFuseRule& rule, std::optional<Current> rated,
                           std::optional<Current> short_circuit,
                           std::optional<Current> module_fuse) {
  const Judgement carries = at_most(scaled(rule.rating_above, short_circuit), rated);
  const Judgement not_too_big = std::isinf(rule.rating_below)
                                    ? Judgement::holds
                                    : at_most(rated, scaled(rule.rating_below, short_circuit));
  return both(carries, both(not_too_big, at_most(rated, module_fuse)));
}

}  // namespace linewright::electrical
