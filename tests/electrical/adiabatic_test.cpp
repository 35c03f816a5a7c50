#include "electrical/adiabatic.hpp"

#include "electrical/near.hpp"
#include "electrical/table.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("adiabatic: published protective conductors, k = 115") {
  // A forum case: 460 A, 0.1 s: 1.26 mm2. A textbook: 200 A, 0.4 s: 1.10 mm2; 90 A, 0.4 s: 0.49
  // mm2. All three are printed cut off, not rounded: 1 %.
  const AdiabaticFactor k{115};
  CHECK(near(*adiabatic_section(460.0 * ampere, 0.1 * second, k), 1.26 * mm2, 0.01));
  CHECK(near(*adiabatic_section(200.0 * ampere, 0.4 * second, k), 1.10 * mm2, 0.01));
  CHECK(near(*adiabatic_section(90.0 * ampere, 0.4 * second, k), 0.49 * mm2, 0.012));
}

TEST_CASE("adiabatic: every k of the tables is what its metal and temperatures give") {
  // The tables are rounded: 1.5 %.
  int lines = 0;
  for (const Row& row : table("electrical/adiabatic.csv")) {
    const auto initial = number(row[4]);
    const auto final = number(row[5]);
    const auto k = number(row[6]);
    if (!initial || !final || !k) continue;
    ++lines;
    const Material material = row[2] == "Cu"   ? Material::copper
                              : row[2] == "Al" ? Material::aluminium
                                               : Material::steel;
    const auto computed = computed_adiabatic_factor(material, {*initial}, {*final});
    REQUIRE(computed);
    CHECK(computed->k == Approx(*k).epsilon(0.015));
  }
  CHECK(lines == 33);
}

TEST_CASE("adiabatic: the line of the table by place, insulation and size") {
  const auto k = [](ConductorPlace place, Insulation insulation, Material material, double size) {
    return adiabatic_factor(place, insulation, material, size * mm2)->k;
  };
  CHECK(k(ConductorPlace::live, Insulation::pvc_70, Material::copper, 300) == 115);
  CHECK(k(ConductorPlace::live, Insulation::pvc_70, Material::copper, 400) == 103);
  CHECK(k(ConductorPlace::live, Insulation::xlpe_90, Material::aluminium, 50) == 94);
  CHECK(k(ConductorPlace::separate, Insulation::pvc_70, Material::copper, 16) == 143);
  CHECK(k(ConductorPlace::core, Insulation::xlpe_90, Material::copper, 16) == 143);
  CHECK(bare_adiabatic_factor(Surroundings::fire_risk, Material::steel)->k == 50);
  CHECK(!adiabatic_factor(ConductorPlace::live, Insulation::pvc_70, Material::steel, 16.0 * mm2));
  CHECK(!adiabatic_factor(ConductorPlace::live, Insulation::pvc_70, Material::copper, 0.0 * mm2));
}

TEST_CASE("adiabatic: a 6 kA breaker of class 3 and cores of 1.5 and 2.5 mm2") {
  // k2 S2 of PVC copper: 29 756 and 82 656 A2s; such a C16 may let 42 000 A2s through (EN 60898-1).
  const AdiabaticFactor k{115};
  CHECK(near(withstand(k, 1.5 * mm2), 29756.0 * ampere_squared_second, 1e-4));
  CHECK(near(withstand(k, 2.5 * mm2), 82656.0 * ampere_squared_second, 1e-4));
  const LetThrough c16 = 42000.0 * ampere_squared_second;
  CHECK(withstands(c16, k, 1.5 * mm2) == Judgement::fails);
  CHECK(withstands(c16, k, 2.5 * mm2) == Judgement::holds);
  CHECK(withstands(std::nullopt, k, 240.0 * mm2) == Judgement::unknown);
}

TEST_CASE("adiabatic: the formula's limits in time, and more time needs more metal") {
  const AdiabaticFactor k{115};
  CHECK(!adiabatic_section(1.0 * kiloampere, 0.099 * second, k));
  CHECK(!adiabatic_section(1.0 * kiloampere, 5.01 * second, k));
  CHECK(near(*adiabatic_section(1.0 * kiloampere, 4.0 * second, k),
             2.0 * *adiabatic_section(1.0 * kiloampere, 1.0 * second, k), 1e-12));
  CHECK(!computed_adiabatic_factor(Material::copper, {70.0}, {70.0}));
}
