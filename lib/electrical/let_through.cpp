#include "electrical/let_through.hpp"

#include "electrical/table.hpp"

namespace linewright::electrical {

Result<LetThrough> class_let_through(const LimitingBreaker& breaker) {
  static const std::vector<Row> rows = table("electrical/let_through.csv");
  if (breaker.energy_class == EnergyClass::one || breaker.characteristic == Characteristic::d)
    return fail("only types B and C of energy limiting class 2 or 3 have a limit");
  const double in = breaker.rated.in(unit::ampere);
  if (!(in > 0.0 && in <= 40.0)) return fail("energy limiting classes end at 40 A");
  // A 40 A device stands in the column of 32 A with a fifth more.
  const double share = in > 32.0 ? 1.2 : 1.0;
  const double listed = in > 32.0 ? 32.0 : in;
  const std::size_t column = (breaker.energy_class == EnergyClass::three ? 2U : 4U) +
                             (breaker.characteristic == Characteristic::c ? 1U : 0U);
  for (const Row& row : rows) {
    const auto icn = number(row[0]);
    const auto up_to = number(row[1]);
    if (!icn || !up_to || *icn != breaker.short_circuit_capacity.in(unit::ampere)) continue;
    if (listed > *up_to) continue;
    if (const auto limit = number(row[column])) return share * *limit * unit::ampere_squared_second;
  }
  return fail("the annex gives no limit for this rating");
}

}  // namespace linewright::electrical
