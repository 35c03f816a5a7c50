#include "electrical/battery.hpp"

#include <vector>

#include "electrical/ampacity.hpp"
#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("battery: a module lead of a published note, drop by drop") {
  // 0.0177 ohm mm2/m, 1.5 mm2, 3 A: 3, 8 and 1 m give 0.21 + 0.57 + 0.07 = 0.85 V (1 %).
  Voltage sum{};
  for (const double metres : {3.0, 8.0, 1.0})
    sum +=
        *direct_current_drop({0.0177 * ohm_mm2_per_metre, metres * metre, 1.5 * mm2, 3.0 * ampere});
  CHECK(near(sum, 0.85 * volt, 0.01));
  CHECK(!direct_current_drop({0.0177 * ohm_mm2_per_metre, 1.0 * metre, 0.0 * mm2, 3.0 * ampere}));
  CHECK(!direct_current_drop({0.0177 * ohm_mm2_per_metre, -1.0 * metre, 1.0 * mm2, 3.0 * ampere}));
}

TEST_CASE("battery: an inverter manual that lists 16 mm2 for 3 kW at 12 V is caught") {
  // At least 250 A, and twelve fuses of 35 A ahead; 16 mm2 carries 107 A clipped (XLPE, two loaded:
  // 115).
  const auto current = battery_current(3.0 * kilowatt, 1.0, 12.0 * volt);
  REQUIRE(current);
  CHECK(near(*current, 250.0 * ampere, 1e-9));
  const auto cable =
      tabulated_capacity({Method::c, Insulation::xlpe_90, Material::copper, 2}, 16.0 * mm2);
  REQUIRE(cable);
  const BatteryFuseCheck check = battery_fuse({12 * 35.0 * ampere, *current, *cable});
  CHECK(check.carries_load == Judgement::holds);
  CHECK(check.protects_cable == Judgement::fails);
  CHECK(check.breaks_fault == Judgement::unknown);
}

TEST_CASE("battery: current rises as voltage and efficiency fall") {
  const Current full = *battery_current(5.0 * kilowatt, 0.95, 51.2 * volt);
  CHECK(near(full, 102.8 * ampere, 0.001));
  CHECK(*battery_current(5.0 * kilowatt, 0.95, 44.0 * volt) > full);
  CHECK(*battery_current(5.0 * kilowatt, 0.90, 51.2 * volt) > full);
  CHECK(!battery_current(5.0 * kilowatt, 0.0, 51.2 * volt));
  CHECK(!battery_current(5.0 * kilowatt, 1.1, 51.2 * volt));
  CHECK(!battery_current(5.0 * kilowatt, 0.9, 0.0 * volt));
}

TEST_CASE("battery: two stacks into a short, by hand") {
  // 54 V and 10 mohm each: 5 mohm together, and 4 mohm of cable: 54 / 9 = 6 kA; at the
  // terminals 10.8 kA.
  const BatteryStack stack{54.0 * volt, 10.0 * milliohm};
  const std::vector<BatteryStack> two{stack, stack};
  CHECK(near(*battery_fault(two, 4.0 * milliohm), 6.0 * kiloampere, 1e-9));
  CHECK(near(*battery_fault(two, 0.0 * ohm), 10.8 * kiloampere, 1e-9));
  CHECK(*battery_fault({}, 0.0 * ohm) == 0.0 * ampere);
  const std::vector<BatteryStack> one_unknown{stack, {54.0 * volt, std::nullopt}};
  CHECK(!battery_fault(one_unknown, 0.0 * ohm));
}

TEST_CASE("battery: the fuse, each side of each border") {
  BatteryFuse in{125.0 * ampere, 100.0 * ampere, 125.0 * ampere, 20.0 * kiloampere,
                 20.0 * kiloampere};
  const BatteryFuseCheck sound = battery_fuse(in);
  CHECK(sound.carries_load == Judgement::holds);
  CHECK(sound.protects_cable == Judgement::holds);
  CHECK(sound.breaks_fault == Judgement::holds);
  in = {125.0 * ampere, 100.1 * ampere, 124.9 * ampere, 20.0 * kiloampere, 20.1 * kiloampere};
  const BatteryFuseCheck broken = battery_fuse(in);
  CHECK(broken.carries_load == Judgement::fails);
  CHECK(broken.protects_cable == Judgement::fails);
  CHECK(broken.breaks_fault == Judgement::fails);
  CHECK(battery_fuse({}).breaks_fault == Judgement::unknown);
}
