#include "electrical/motor_start.hpp"

#include <vector>

#include "electrical/derating.hpp"
#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("motor start: by hand on a pure reactance") {
  // Zm = 230 / 46 = 5 ohm, cos phi 0: 5 / (5 + 1) leaves 0.8333, a dip of 0.1667.
  const MotorStart start{230.0 * volt, {0.0 * ohm, 1.0 * ohm}, 46.0 * ampere, 0.0};
  CHECK(*start_dip(start) == Approx(1.0 / 6.0));
  // With cos phi 0.6 it is 3 + j4 against j1: 5 / |3 + j5| = 0.8575.
  MotorStart usual = start;
  usual.cos_phi = 0.6;
  CHECK(*start_dip(usual) == Approx(1 - 5 / 5.830952).epsilon(1e-6));
}

TEST_CASE("motor start: a weaker source and a bigger motor dip more") {
  double before = 0.0;
  for (double x = 0.1; x < 3.0; x += 0.1) {
    const double here = *start_dip({230.0 * volt, {0.0 * ohm, x * ohm}, 46.0 * ampere, 0.3});
    CHECK(here > before);
    before = here;
  }
  CHECK(*start_dip({230.0 * volt, {}, 46.0 * ampere, 0.3}) == Approx(0.0).margin(1e-12));
  CHECK(!start_dip({230.0 * volt, {}, 0.0 * ampere, 0.3}));
  CHECK(!start_dip({0.0 * volt, {}, 46.0 * ampere, 0.3}));
  CHECK(!start_dip({230.0 * volt, {}, 46.0 * ampere, 1.3}));
}

TEST_CASE("motor start: the largest leap counts, not the largest load") {
  const std::vector<StartingLoad> loads{{3.0 * kilovolt_ampere, 3.0 * kilovolt_ampere},
                                        {1.0 * kilovolt_ampere, 6.0 * kilovolt_ampere},
                                        {2.0 * kilovolt_ampere, 5.0 * kilovolt_ampere}};
  CHECK(highest_with_one_start(loads) / (1.0 * kilovolt_ampere) == Approx(3 + 6 + 2));
  CHECK(highest_with_one_start({}) == 0.0 * kilovolt_ampere);
}

TEST_CASE("derating: a manual's rows, and both at once") {
  // 1500 m 0.97 … 4000 m 0.82; 45 degrees 0.97, 50 0.94, 55 0.91, 60 0.88; 2000 m and 50 degrees:
  // 0.94 x 0.94 = 0.8836, since multipliers multiply.
  const auto left = [](double metres, double degrees) {
    return *derating_factor(alternator_derating, metres * metre, {degrees});
  };
  CHECK(left(1500, 20) == Approx(0.97));
  CHECK(left(4000, 20) == Approx(0.82));
  CHECK(left(0, 45) == Approx(0.97));
  CHECK(left(0, 60) == Approx(0.88));
  CHECK(left(2000, 50) == Approx(0.8836));
  CHECK(left(1000, 40) == 1.0);
  CHECK(left(-100, -20) == 1.0);
  CHECK(!derating_factor(alternator_derating, 40000.0 * metre, {20.0}));
}
