#include "electrical/let_through.hpp"

#include "electrical/adiabatic.hpp"
#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

namespace {

Result<LetThrough> of(Characteristic kind, double rated, double icn, EnergyClass energy_class) {
  return class_let_through({kind, rated * ampere, icn * ampere, energy_class});
}

}  // namespace

TEST_CASE("let-through: lines and columns of the annex") {
  const auto squared = [](double value) { return value * ampere_squared_second; };
  CHECK(*of(Characteristic::b, 16, 10000, EnergyClass::three) == squared(70000));
  CHECK(*of(Characteristic::c, 16, 10000, EnergyClass::two) == squared(290000));
  CHECK(*of(Characteristic::c, 16, 6000, EnergyClass::three) == squared(42000));
  CHECK(*of(Characteristic::b, 20, 6000, EnergyClass::three) == squared(45000));
  CHECK(near(*of(Characteristic::b, 40, 6000, EnergyClass::three), squared(54000), 1e-9));
}

TEST_CASE("let-through: what has no limit has none here") {
  CHECK(!of(Characteristic::c, 16, 6000, EnergyClass::one));
  CHECK(!of(Characteristic::d, 16, 6000, EnergyClass::three));
  CHECK(!of(Characteristic::c, 50, 6000, EnergyClass::three));
  CHECK(!of(Characteristic::c, 16, 15000, EnergyClass::three));
  CHECK(!of(Characteristic::c, 0, 6000, EnergyClass::three));
}

TEST_CASE("let-through: rises with rating and capacity, class 3 below 2, B below C") {
  for (const double icn : {3000.0, 4500.0, 6000.0, 10000.0}) {
    LetThrough before{};
    for (const double rated : {6.0, 16.0, 20.0, 32.0, 40.0}) {
      const LetThrough b3 = *of(Characteristic::b, rated, icn, EnergyClass::three);
      CHECK(b3 >= before);
      before = b3;
      CHECK(b3 < *of(Characteristic::c, rated, icn, EnergyClass::three));
      CHECK(b3 < *of(Characteristic::b, rated, icn, EnergyClass::two));
      if (icn < 10000.0) {
        const double more = icn < 4000.0 ? 4500.0 : icn < 5000.0 ? 6000.0 : 10000.0;
        CHECK(b3 < *of(Characteristic::b, rated, more, EnergyClass::three));
      }
    }
  }
}

TEST_CASE("let-through: a C16 of class 3 at 6 kA covers 2.5 mm2 of PVC copper but not 1.5") {
  const auto k =
      *adiabatic_factor(ConductorPlace::live, Insulation::pvc_70, Material::copper, 2.5 * mm2);
  const LetThrough c16 = *of(Characteristic::c, 16, 6000, EnergyClass::three);
  CHECK(withstands(c16, k, 1.5 * mm2) == Judgement::fails);
  CHECK(withstands(c16, k, 2.5 * mm2) == Judgement::holds);
}
