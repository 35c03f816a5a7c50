#include "electrical/correction.hpp"

#include <array>
#include <string>

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

/// Which lines of correction.csv belong together.
struct Column {
  std::string_view kind;
  std::string_view condition;
  std::string_view insulation;
};

/// What to do with a value above the last line.
enum class Beyond { fails, last_line };

/// The factor of the first line at or above the value: factors fall with every key of this table.
Result<double> factor(const Column& column, double value, Beyond beyond) {
  static const std::vector<Row> rows = table("electrical/correction.csv");
  std::optional<double> last;
  for (const Row& row : rows) {
    if (row[0] != column.kind || row[1] != column.condition || row[2] != column.insulation)
      continue;
    const auto key = number(row[3]);
    last = number(row[4]);
    if (key && last && value <= *key * (1.0 + 1e-9)) return *last;
  }
  if (last && beyond == Beyond::last_line && value > 0.0) return *last;
  return fail(fmt::format("IEC 60364-5-52 gives no factor '{}' for {:g}", column.kind, value));
}

std::string_view name(Grouping grouping) {
  constexpr std::array<std::string_view, 5> names{"bunched", "wall", "ceiling", "perforated tray",
                                                  "ladder"};
  return names.at(static_cast<std::size_t>(grouping));
}

/// The spacing of the table that is no wider than the real one. A cable diameter as clearance is
/// left to whoever knows the diameter.
std::string_view spacing(Burial burial, Length clearance) {
  const double metres = clearance.si * (1.0 + 1e-9);
  if (burial == Burial::in_duct && metres >= 1.0) return "1.0 m";
  if (metres >= 0.5) return "0.5 m";
  if (metres >= 0.25) return "0.25 m";
  if (burial == Burial::direct && metres >= 0.125) return "0.125 m";
  return "touching";
}

}  // namespace

Result<double> air_factor(Insulation insulation, Celsius air) {
  return factor({"ambient air", "", short_name(insulation)}, air.degrees, Beyond::fails);
}

Result<double> ground_factor(Insulation insulation, Celsius ground) {
  return factor({"ambient ground", "", short_name(insulation)}, ground.degrees, Beyond::fails);
}

Result<double> soil_factor(Burial burial, ThermalResistivity soil) {
  if (!(soil.si > 0.0)) return fail("a thermal resistivity must be above 0");
  return factor({"soil resistivity", burial == Burial::in_duct ? "D1" : "D2", ""}, soil.si,
                Beyond::fails);
}

Result<double> grouping_factor(Grouping grouping, int circuits) {
  if (circuits < 1) return fail("a group has at least one circuit");
  return factor({"grouping", name(grouping), ""}, circuits,
                grouping == Grouping::bunched ? Beyond::fails : Beyond::last_line);
}

Result<double> buried_grouping_factor(Burial burial, Length clearance, int circuits) {
  if (circuits < 1) return fail("a group has at least one circuit");
  if (!(clearance.si >= 0.0)) return fail("a clearance is not below 0");
  if (circuits == 1) return 1.0;
  return factor({burial == Burial::direct ? "grouping direct buried" : "grouping buried ducts",
                 spacing(burial, clearance), ""},
                circuits, Beyond::fails);
}

Result<double> surrounded_factor(Length surrounded) {
  if (!(surrounded.si >= 0.0)) return fail("a length is not below 0");
  if (surrounded.si == 0.0) return 1.0;
  return factor({"thermal insulation", "", ""}, surrounded.in(unit::millimetre), Beyond::last_line);
}

}  // namespace linewright::electrical
