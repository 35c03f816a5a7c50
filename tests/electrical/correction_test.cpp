#include "electrical/correction.hpp"

#include <cmath>
#include <limits>

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;

TEST_CASE("correction: ambient factors are what their physics says, within rounding") {
  // sqrt((Tc - T) / (Tc - T0)): IEC 60287 with the load as the only heat.
  for (const Insulation insulation : {Insulation::pvc_70, Insulation::xlpe_90}) {
    const double tc = service_temperature(insulation).degrees;
    for (double t = 10; t < tc - 5; t += 5) {
      const auto air = air_factor(insulation, {t});
      const auto ground = ground_factor(insulation, {t});
      REQUIRE(air);
      REQUIRE(ground);
      CHECK(std::abs(*air - std::sqrt((tc - t) / (tc - 30))) < 0.006);
      CHECK(std::abs(*ground - std::sqrt((tc - t) / (tc - 20))) < 0.006);
    }
  }
}

TEST_CASE("correction: between two lines the lower factor counts, beyond the last there is none") {
  CHECK(*air_factor(Insulation::pvc_70, {35.0}) == 0.94);
  CHECK(*air_factor(Insulation::pvc_70, {35.1}) == 0.87);
  CHECK(*air_factor(Insulation::pvc_70, {-5.0}) == 1.22);
  CHECK(!air_factor(Insulation::pvc_70, {60.1}));
  CHECK(air_factor(Insulation::xlpe_90, {60.1}));
  CHECK(!air_factor(Insulation::xlpe_90, {80.1}));
  CHECK(!air_factor(Insulation::pvc_70, {std::numeric_limits<double>::quiet_NaN()}));
}

TEST_CASE("correction: soil that carries heat worse lowers the factor") {
  CHECK(*soil_factor(Burial::in_duct, 2.5 * kelvin_metre_per_watt) == 1.0);
  CHECK(*soil_factor(Burial::in_duct, 1.2 * kelvin_metre_per_watt) == 1.10);
  CHECK(*soil_factor(Burial::direct, 0.3 * kelvin_metre_per_watt) == 1.88);
  CHECK(!soil_factor(Burial::direct, 3.1 * kelvin_metre_per_watt));
  CHECK(!soil_factor(Burial::direct, 0.0 * kelvin_metre_per_watt));
}

TEST_CASE("correction: grouping as printed, and never better with a circuit more") {
  // A trade notice derates six cables on a tray; the guide's bunched row: 0.57 for six.
  CHECK(*grouping_factor(Grouping::bunched, 6) == 0.57);
  CHECK(*grouping_factor(Grouping::bunched, 10) == 0.45);
  CHECK(!grouping_factor(Grouping::bunched, 21));
  CHECK(*grouping_factor(Grouping::ceiling, 1) == 0.95);
  CHECK(*grouping_factor(Grouping::wall, 30) == 0.70);
  CHECK(!grouping_factor(Grouping::wall, 0));
  for (const Grouping grouping : {Grouping::bunched, Grouping::wall, Grouping::ceiling,
                                  Grouping::perforated_tray, Grouping::ladder}) {
    double before = 1.0;
    for (int n = 1; n <= 20; ++n) {
      const auto here = grouping_factor(grouping, n);
      REQUIRE(here);
      CHECK(*here <= before);
      before = *here;
    }
  }
}

TEST_CASE("correction: cables in the ground by number and clearance") {
  CHECK(*buried_grouping_factor(Burial::direct, 0.0 * metre, 1) == 1.0);
  CHECK(*buried_grouping_factor(Burial::direct, 0.0 * metre, 3) == 0.65);
  CHECK(*buried_grouping_factor(Burial::direct, 0.3 * metre, 3) == 0.80);
  CHECK(*buried_grouping_factor(Burial::in_duct, 0.2 * metre, 3) == 0.75);
  CHECK(*buried_grouping_factor(Burial::in_duct, 1.0 * metre, 6) == 0.90);
  CHECK(!buried_grouping_factor(Burial::in_duct, 1.0 * metre, 7));
  for (const Burial burial : {Burial::in_duct, Burial::direct}) {
    for (int n = 2; n <= 6; ++n) {
      double before = 0.0;
      for (const double clearance : {0.0, 0.125, 0.25, 0.5, 1.0}) {
        const auto here = buried_grouping_factor(burial, clearance * metre, n);
        REQUIRE(here);
        CHECK(*here >= before);
        before = *here;
      }
    }
  }
}

TEST_CASE("correction: thermal insulation around the cable") {
  CHECK(*surrounded_factor(0.0 * metre) == 1.0);
  CHECK(*surrounded_factor(100.0 * millimetre) == 0.78);
  CHECK(*surrounded_factor(101.0 * millimetre) == 0.63);
  CHECK(*surrounded_factor(4.0 * metre) == 0.5);
  CHECK(!surrounded_factor(-1.0 * metre));
}
