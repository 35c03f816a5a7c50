#include "electrical/resistance.hpp"

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("resistance: 2.5 mm2 of stranded copper stays above what its metal alone would have") {
  // A note on IEC 60228 computes 17.241 / 2.5 x 1.03 (stranding) = 7.10 ohm/km; the limit is 7.41.
  const auto limit = resistance_at_20(Material::copper, ConductorClass::class_2, 2.5 * mm2);
  REQUIRE(limit);
  CHECK(near(*limit, 7.41 * ohm_per_kilometre, 1e-9));
  CHECK(*limit > 7.10 * ohm_per_kilometre);
}

TEST_CASE("resistance: every value lies 0 to 16 % above the metal's and falls with the size") {
  for (const Material material : {Material::copper, Material::aluminium}) {
    for (const ConductorClass kind : {ConductorClass::class_2, ConductorClass::class_5}) {
      ResistancePerLength before{1e9};
      int found = 0;
      for (const double size : nominal_mm2) {
        const auto r = resistance_at_20(material, kind, size * mm2);
        if (!r) continue;
        ++found;
        CHECK(*r < before);
        before = *r;
        // Resistivities of IEC 60228's metals; 50 mm2 is in truth made with 47.5 mm2.
        const Resistivity rho =
            (material == Material::copper ? 0.017241 : 0.028264) * ohm_mm2_per_metre;
        const double ratio = *r / (rho / (size * mm2));
        CHECK(ratio > 1.0);
        CHECK(ratio < 1.16);
      }
      CHECK(found == (material == Material::copper      ? 20
                      : kind == ConductorClass::class_2 ? 13
                                                        : 0));
    }
  }
}

TEST_CASE("resistance: by temperature as the tables of installation practice have it") {
  const ResistancePerLength r20 = 1.0 * ohm_per_kilometre;
  CHECK(near(resistance_at(r20, {70.0}), 1.20 * r20, 1e-12));
  CHECK(near(resistance_at(r20, {90.0}), 1.28 * r20, 1e-12));
  CHECK(near(resistance_at(r20, {20.0}), r20, 1e-12));
}

TEST_CASE("resistance: a size that the standard does not have has none") {
  CHECK(!resistance_at_20(Material::copper, ConductorClass::class_2, 3.0 * mm2));
  CHECK(!resistance_at_20(Material::aluminium, ConductorClass::class_2, 2.5 * mm2));
  CHECK(!resistance_at_20(Material::aluminium, ConductorClass::class_5, 50.0 * mm2));
}

TEST_CASE("resistance: at the end of a fault") {
  // 1 + 0.004 x 140 = 1.56 for PVC, 1 + 0.004 x 230 = 1.92 for XLPE.
  const ResistancePerLength r20 = 1.0 * ohm_per_kilometre;
  CHECK(near(resistance_at(r20, fault_temperature(Insulation::pvc_70, 300.0 * mm2)), 1.56 * r20,
             1e-9));
  CHECK(near(resistance_at(r20, fault_temperature(Insulation::pvc_70, 400.0 * mm2)), 1.48 * r20,
             1e-9));
  CHECK(near(resistance_at(r20, fault_temperature(Insulation::xlpe_90, 400.0 * mm2)), 1.92 * r20,
             1e-9));
}
