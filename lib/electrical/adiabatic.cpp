#include "electrical/adiabatic.hpp"

#include <array>
#include <cmath>

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

Result<AdiabaticFactor> look_up(std::string_view place, std::string_view covering,
                                Material material, double mm2) {
  static const std::vector<Row> rows = table("electrical/adiabatic.csv");
  for (const Row& row : rows) {
    if (row[0] != place || row[1] != covering || row[2] != short_name(material)) continue;
    const auto up_to = number(row[3]);
    if (up_to && !(mm2 <= *up_to)) continue;
    if (const auto k = number(row[6])) return AdiabaticFactor{*k};
  }
  return fail(
      fmt::format("IEC 60364 gives no k for {} {}, {}", short_name(material), covering, place));
}

/// Of Table A.54.1: reciprocal of the temperature coefficient at 0 degrees, heat capacity in J/(K
/// mm3), resistivity at 20 degrees in ohm mm.
struct Metal {
  double b;
  double qc;
  double rho20;
};

constexpr Metal metal(Material material) {
  switch (material) {
    case Material::copper:
      return {234.5, 3.45e-3, 17.241e-6};
    case Material::aluminium:
      return {228.0, 2.5e-3, 28.264e-6};
    case Material::steel:
      break;
  }
  return {202.0, 3.8e-3, 138e-6};
}

}  // namespace

Result<AdiabaticFactor> adiabatic_factor(ConductorPlace place, Insulation insulation,
                                         Material material, Area cross_section) {
  constexpr std::array<std::string_view, 3> names{"live", "separate", "core"};
  if (!(cross_section.si > 0.0)) return fail("a cross-section must be above 0");
  return look_up(names.at(static_cast<std::size_t>(place)), short_name(insulation), material,
                 cross_section.in(unit::mm2));
}

Result<AdiabaticFactor> bare_adiabatic_factor(Surroundings surroundings, Material material) {
  constexpr std::array<std::string_view, 3> names{"visible", "normal", "fire risk"};
  return look_up("bare", names.at(static_cast<std::size_t>(surroundings)), material, 0.0);
}

Result<AdiabaticFactor> computed_adiabatic_factor(Material material, Celsius initial,
                                                  Celsius final) {
  const double theta_i = initial.degrees;
  const double theta_f = final.degrees;
  if (!(theta_i >= -20.0 && theta_f > theta_i))
    return fail("the final temperature must be above the initial one");
  const auto [b, qc, rho20] = metal(material);
  return AdiabaticFactor{
      std::sqrt(qc * (b + 20.0) / rho20 * std::log((b + theta_f) / (b + theta_i)))};
}

Result<Area> adiabatic_section(Current fault, Time clearing, AdiabaticFactor factor) {
  const double t = clearing.in(unit::second);
  if (!(t >= 0.1 && t <= 5.0)) return fail("the adiabatic formula holds from 0.1 s to 5 s");
  if (!(factor.k > 0.0)) return fail("k must be above 0");
  if (!(fault.si >= 0.0)) return fail("a current is not below 0");
  return fault.in(unit::ampere)*std::sqrt(t) / factor.k * unit::mm2;
}

LetThrough withstand(AdiabaticFactor factor, Area cross_section) {
  const double root = factor.k * cross_section.in(unit::mm2);
  return root * root * unit::ampere_squared_second;
}

Judgement withstands(std::optional<LetThrough> let_through, AdiabaticFactor factor,
                     Area cross_section) {
  if (!let_through) return Judgement::unknown;
  return judged(*let_through <= withstand(factor, cross_section));
}

}  // namespace linewright::electrical
