// What a conductor is made of, and the sizes it comes in.
#pragma once

#include <array>
#include <cmath>
#include <string_view>

#include "units/quantity.hpp"

namespace linewright::electrical {

/// Steel serves as protective conductor only.
enum class Material { copper, aluminium, steel };

/// IEC 60228: class 2 stranded, class 5 flexible. Solid conductors (class 1) have the values of
/// class 2 up to 10 mm2 and are taken as such.
enum class ConductorClass { class_2, class_5 };

/// By the temperature that the insulation bears in normal service.
enum class Insulation { pvc_70, xlpe_90 };

constexpr Celsius service_temperature(Insulation insulation) {
  return {insulation == Insulation::pvc_70 ? 70.0 : 90.0};
}

/// What the insulation bears at the end of a fault; the least fault current is computed with it.
/// PVC above 300 mm2 bears 140 degrees.
/// Source: IEC 60364-4-43:2008, Table 43A.
constexpr Celsius fault_temperature(Insulation insulation, Area cross_section) {
  if (insulation == Insulation::xlpe_90) return {250.0};
  return {cross_section.si <= 300e-6 * (1.0 + 1e-9) ? 160.0 : 140.0};
}

/// As the tables write them.
constexpr std::string_view short_name(Material material) {
  if (material == Material::steel) return "Steel";
  return material == Material::copper ? "Cu" : "Al";
}
constexpr std::string_view short_name(Insulation insulation) {
  return insulation == Insulation::pvc_70 ? "PVC70" : "XLPE90";
}

/// Nominal cross-sections in mm2 (IEC 60228), from the smallest to the largest.
inline constexpr std::array<double, 20> nominal_mm2{
    0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400};

/// Whether two cross-sections are the same member of the series; they are names, so a rounding in
/// the last place does not part them.
inline bool same_size(Area a, Area b) {
  return std::abs(a.si - b.si) <= 1e-6 * b.si;
}

}  // namespace linewright::electrical
