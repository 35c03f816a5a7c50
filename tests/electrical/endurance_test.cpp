#include "electrical/endurance.hpp"

#include <vector>

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("endurance: a published bank for one day") {
  // 15.75 kWh at 48 V: 328 Ah, half used 656 Ah, 15 % more 754.4 Ah (from the rounded 328; 0.1 %).
  const Energy day = 15.75 * kilowatt_hour;
  CHECK(near(*required_capacity(day, 48.0 * volt, 1.0, 1.0), 328.0 * ampere_hour, 0.001));
  CHECK(near(*required_capacity(day, 48.0 * volt, 0.5, 1.0), 656.0 * ampere_hour, 0.001));
  CHECK(near(*required_capacity(day, 48.0 * volt, 0.5, 1.15), 754.4 * ampere_hour, 0.001));
  CHECK(!required_capacity(day, 48.0 * volt, 1.1, 1.0));
  CHECK(!required_capacity(day, 0.0 * volt, 0.5, 1.0));
}

TEST_CASE("endurance: hours of a constant load") {
  // 10 kWh, nine tenths of it, 0.95: 8.55 kWh; 0.5 kW lasts 17.1 h.
  const Store store{10.0 * kilowatt_hour, 0.9, 0.95};
  const Energy usable = *usable_energy(store);
  CHECK(usable / (1.0 * kilowatt_hour) == Approx(8.55));
  CHECK(near(usable / (0.5 * kilowatt), 17.1 * hour, 1e-9));
  // The curve says the same, to the moment within its step.
  const std::vector<ActivePower> load{0.5 * kilowatt};
  const auto curve = endurance_curve(store, {1.0 * hour, load, {}}, 1.0, 24);
  REQUIRE(curve);
  REQUIRE(curve->empty_after);
  CHECK(near(*curve->empty_after, 17.1 * hour, 1e-9));
  CHECK(curve->unserved / (1.0 * kilowatt_hour) == Approx(12.0 - 8.55));
}

TEST_CASE("endurance: a day with sun, by hand") {
  // 4 kWh, all of it usable, both ways 0.8, from half full; steps of 6 h:
  //   load 0.2 kW, no sun:      -1.2 / 0.8 = -1.5        2.0 -> 0.5
  //   load 0.1 kW, sun 1.0 kW:  +5.4 x 0.8 = 4.32, room 3.5: 1.025 kWh spilled (5.4 - 3.5 / 0.8)
  //   -> 4.0 load 0.3 kW, sun 0.3 kW:  nothing -> 4.0 load 0.6 kW, no sun:      -3.6 / 0.8 = -4.5:
  //   0.4 kWh not served, after 18 h + 3.2 / 0.6 h  -> 0
  const Store store{4.0 * kilowatt_hour, 1.0, 0.8, 0.8};
  const std::vector<ActivePower> load{0.2 * kilowatt, 0.1 * kilowatt, 0.3 * kilowatt,
                                      0.6 * kilowatt};
  const std::vector<ActivePower> sun{0.0 * kilowatt, 1.0 * kilowatt, 0.3 * kilowatt,
                                     0.0 * kilowatt};
  const auto curve = endurance_curve(store, {6.0 * hour, load, sun}, 0.5, 4);
  REQUIRE(curve);
  const std::vector<double> expected{2.0, 0.5, 4.0, 4.0, 0.0};
  REQUIRE(curve->stored.size() == expected.size());
  for (std::size_t k = 0; k < expected.size(); ++k)
    CHECK(curve->stored[k] / (1.0 * kilowatt_hour) == Approx(expected[k]).margin(1e-9));
  CHECK(curve->spilled / (1.0 * kilowatt_hour) == Approx(1.025));
  CHECK(curve->unserved / (1.0 * kilowatt_hour) == Approx(0.4));
  REQUIRE(curve->empty_after);
  CHECK(near(*curve->empty_after, (18.0 + 3.2 / 0.6) * hour, 1e-9));
}

TEST_CASE("endurance: more battery never lasts shorter, and charge stays within its window") {
  std::vector<ActivePower> load;
  std::vector<ActivePower> sun;
  for (int k = 0; k < 24; ++k) {
    load.push_back((0.2 + 0.05 * (k % 7)) * kilowatt);
    sun.push_back((k > 8 && k < 17 ? 0.4 : 0.0) * kilowatt);
  }
  Time before{};
  for (double size = 1.0; size < 12.0; size += 1.0) {
    const auto curve =
        endurance_curve({size * kilowatt_hour, 0.9, 0.95, 0.95}, {1.0 * hour, load, sun}, 1.0, 48);
    REQUIRE(curve);
    const Time here = curve->empty_after.value_or(48.0 * hour);
    CHECK(here >= before);
    before = here;
    for (const Energy stored : curve->stored) {
      CHECK(stored >= -1e-9 * kilowatt_hour);
      CHECK(stored <= 0.9 * size * (1 + 1e-9) * kilowatt_hour);
    }
  }
}

TEST_CASE("endurance: unsound stores and profiles") {
  const std::vector<ActivePower> load{1.0 * kilowatt};
  const std::vector<ActivePower> two{1.0 * kilowatt, 1.0 * kilowatt};
  const Store good{1.0 * kilowatt_hour, 0.8, 0.9, 0.9};
  CHECK(!usable_energy({1.0 * kilowatt_hour, 0.0, 0.9, 0.9}));
  CHECK(!usable_energy({1.0 * kilowatt_hour, 0.8, 1.1, 0.9}));
  CHECK(!usable_energy({0.0 * kilowatt_hour, 0.8, 0.9, 0.9}));
  CHECK(!endurance_curve(good, {1.0 * hour, {}, {}}, 1.0, 1));
  CHECK(!endurance_curve(good, {1.0 * hour, load, two}, 1.0, 1));
  CHECK(!endurance_curve(good, {0.0 * hour, load, {}}, 1.0, 1));
  CHECK(!endurance_curve(good, {1.0 * hour, load, {}}, 1.1, 1));
}

TEST_CASE("endurance: fuel between the points of a table, and not beyond") {
  const auto flow = [](double litres) { return litres * litre / (1.0 * hour); };
  const std::vector<FuelPoint> points{{0.25, flow(1.0)}, {0.5, flow(1.6)}, {1.0, flow(3.0)}};
  CHECK(near(*fuel_flow(points, 0.5), flow(1.6), 1e-12));
  CHECK(near(*fuel_flow(points, 0.75), flow(2.3), 1e-12));
  CHECK(near(20.0 * litre / *fuel_flow(points, 0.75), 20.0 / 2.3 * hour, 1e-12));
  CHECK(!fuel_flow(points, 0.2));
  CHECK(!fuel_flow(points, 1.1));
  CHECK(!fuel_flow({}, 0.5));
}
