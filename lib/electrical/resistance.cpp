#include "electrical/resistance.hpp"

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

/// The column of resistance.csv; none for flexible aluminium and steel, which the standard lacks.
std::size_t column(Material material, ConductorClass conductor_class) {
  if (material == Material::steel) return 0;
  if (material == Material::copper) return conductor_class == ConductorClass::class_2 ? 1 : 2;
  return conductor_class == ConductorClass::class_2 ? 3 : 0;
}

}  // namespace

Result<ResistancePerLength> resistance_at_20(Material material, ConductorClass conductor_class,
                                             Area cross_section) {
  static const std::vector<Row> rows = table("electrical/resistance.csv");
  const std::size_t wanted = column(material, conductor_class);
  for (const Row& row : rows) {
    const auto size = number(row[0]);
    if (wanted == 0 || !size || !same_size(*size * unit::mm2, cross_section)) continue;
    if (const auto value = number(row[wanted])) return *value * unit::milliohm_per_metre;
  }
  return fail(fmt::format("IEC 60228 gives no resistance for {} of {:g} mm²", short_name(material),
                          cross_section.in(unit::mm2)));
}

ResistancePerLength resistance_at(ResistancePerLength r20, Celsius conductor) {
  const double alpha = 0.004;
  const double theta = conductor.degrees;
  return r20 * (1.0 + alpha * (theta - 20.0));
}

}  // namespace linewright::electrical
