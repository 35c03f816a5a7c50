#include "electrical/demand.hpp"

#include <numbers>
#include <vector>

#include "electrical/near.hpp"
#include "electrical/source_impedance.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

namespace {

const double third = 2 * std::numbers::pi / 3;

Current sum(std::initializer_list<double> amperes, const Diversity& diversity) {
  std::vector<Current> list;
  for (const double a : amperes)
    list.push_back(a * ampere);
  return diversified(list, diversity);
}

}  // namespace

TEST_CASE("demand: currents of published loads") {
  // Textbook: 6 kW at 230 V is 26.09 A. Trade notice: 15 kW, 415 V, cos phi 0.85 is 24.5 A (0.5 %).
  const auto single = load_current(6.0 * kilowatt, 1.0, polar(230.0 * volt, 0.0));
  CHECK(near(magnitude(*single), 26.09 * ampere, 0.0005));
  const Voltage u0 = 415.0 * volt / std::numbers::sqrt3;
  const auto motor = load_current(5.0 * kilowatt, 0.85, polar(u0, 1.0));
  CHECK(near(magnitude(*motor), 24.5 * ampere, 0.005));
  CHECK(angle(*motor) == Approx(1.0 - std::acos(0.85)));
  CHECK(!load_current(1.0 * kilowatt, 0.0, polar(230.0 * volt, 0.0)));
  CHECK(!load_current(1.0 * kilowatt, 1.01, polar(230.0 * volt, 0.0)));
  CHECK(!load_current(1.0 * kilowatt, 1.0, {}));
}

TEST_CASE("demand: the neutral of balanced lines carries their third harmonics, all three") {
  LineCurrents currents{
      {polar(20.0 * ampere, 0.0), polar(20.0 * ampere, -third), polar(20.0 * ampere, third)},
      {8.0 * ampere, 8.0 * ampere, 8.0 * ampere}};
  CHECK(near(neutral_current(currents), 24.0 * ampere, 1e-9));
  currents += {{polar(10.0 * ampere, 0.0), {}, {}}, {}};
  // 10 A of unbalance and 24 A of harmonics: 26 A.
  CHECK(near(neutral_current(currents), 26.0 * ampere, 1e-9));
}

TEST_CASE("demand: three lines on one phase add up in the neutral") {
  const CurrentPhasor i = polar(16.0 * ampere, 0.0);
  CHECK(near(neutral_current({{i, i, i}}), 48.0 * ampere, 1e-12));
}

TEST_CASE("demand: unbalance by size") {
  CHECK(near(unbalance({{polar(30.0 * ampere, 0.0), polar(12.0 * ampere, -third), {}}}),
             30.0 * ampere, 1e-12));
}

TEST_CASE("demand: a dwelling by largest circuit and two fifths of the rest") {
  // A forum's sum: 30 A (shower), 4.16, 4.16, 30, 30 A, all at two fifths, and 26.8 A for the
  // cooker: 66.13 A; it prints 98.29 for the sum 98.32. 0.1 %.
  const Current cooker = cooker_demand(66.0 * ampere, CookerControl::plain);
  CHECK(near(cooker, 26.8 * ampere, 1e-9));
  CHECK(near(cooker + sum({30, 4.16, 4.16, 30, 30}, {0.4, 0.4, 0.4}), 66.13 * ampere, 0.001));
  // Item by item, of another: 35 + 21 + 32 + 12.8 (two fifths of a second ring) + 13 + 2.3 = 116 A
  // (0.5 A).
  const Current rings = sum({32, 32}, dwelling_circuits);
  CHECK(near(rings, 44.8 * ampere, 1e-9));
  CHECK((rings + (35.0 + 21.0 + 13.0 + 2.3) * ampere).in(ampere) == Approx(116).margin(0.5));
}

TEST_CASE("demand: diversity takes the largest whatever the order") {
  CHECK(sum({5, 30, 20}, instantaneous_heaters) == (30.0 + 20.0 + 0.25 * 5.0) * ampere);
  CHECK(sum({}, dwelling_circuits) == 0.0 * ampere);
  CHECK(cooker_demand(8.0 * ampere, CookerControl::plain) == 8.0 * ampere);
  CHECK(near(cooker_demand(20.0 * ampere, CookerControl::with_socket), 18.0 * ampere, 1e-9));
}

TEST_CASE("demand: a riser of flats") {
  // An installation guide: 25 x 6 kVA x 0.46 = 69 kVA, 100 A at 400 V (1 %).
  const ApparentPower riser = *riser_factor(25) * 25.0 * (6.0 * kilovolt_ampere);
  CHECK(riser / (1.0 * kilovolt_ampere) == Approx(69.0));
  CHECK(near(rated_current(riser, 400.0 * volt), 100.0 * ampere, 0.01));
  CHECK(*riser_factor(1) == 1.0);
  CHECK(*riser_factor(24) == 0.49);
  CHECK(!riser_factor(0));
  for (int n = 1; n < 80; ++n) {
    CHECK(*riser_factor(n + 1) <= *riser_factor(n));
  }
}
