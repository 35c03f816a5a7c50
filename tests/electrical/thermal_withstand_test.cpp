#include "electrical/thermal_withstand.hpp"

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("thermal withstand: heat of the direct-current part by hand") {
  // kappa 1.8, 50 Hz, 0.1 s: ln 0.8 = -0.223144; (e^(20 x that) - 1) / (10 x that) = 0.4430.
  CHECK(*direct_current_heat(1.8, 50.0 * hertz, 0.1 * second) == Approx(0.4430).epsilon(1e-3));
  CHECK(*direct_current_heat(2.0, 50.0 * hertz, 0.1 * second) == 2.0);
  CHECK(near(thermal_equivalent(10.0 * kiloampere, 0.4430), 12.01 * kiloampere, 1e-3));
  CHECK(!direct_current_heat(2.1, 50.0 * hertz, 0.1 * second));
  CHECK(!direct_current_heat(1.8, 50.0 * hertz, 0.0 * second));
}

TEST_CASE("thermal withstand: the part fades with time and grows with kappa") {
  double before = 3.0;
  for (double t = 0.01; t < 5.0; t *= 1.5) {
    const double here = *direct_current_heat(1.7, 50.0 * hertz, t * second);
    CHECK(here < before);
    CHECK(*direct_current_heat(1.8, 50.0 * hertz, t * second) > here);
    before = here;
  }
}

TEST_CASE("thermal withstand: shorter than declared gains nothing, longer costs") {
  const ShortTimeRating rating{10.0 * kiloampere, 1.0 * second};
  CHECK(bears_heat(rating, 10.0 * kiloampere, 0.1 * second) == Judgement::holds);
  CHECK(bears_heat(rating, 10.1 * kiloampere, 0.1 * second) == Judgement::fails);
  CHECK(bears_heat(rating, 5.0 * kiloampere, 4.0 * second) == Judgement::holds);
  CHECK(bears_heat(rating, 5.1 * kiloampere, 4.0 * second) == Judgement::fails);
  CHECK(bears_heat({}, 1.0 * ampere, 0.1 * second) == Judgement::unknown);
  CHECK(bears_heat(rating, std::nullopt, 0.1 * second) == Judgement::unknown);
}
