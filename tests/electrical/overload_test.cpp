#include "electrical/overload.hpp"

#include <catch2/catch.hpp>

#include "electrical/neutral_load.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;

TEST_CASE("overload: a breaker equal to the cable holds, a fuse equal to it does not") {
  // I2 of a gG fuse is 1.6 In: In may be 1.45 / 1.6 = 0.906 Iz at most.
  OverloadInput in{16.0 * ampere, 20.0 * ampere, 20.0 * ampere, OverloadDevice::breaker_60898};
  const OverloadCheck found = overload(in);
  CHECK(found.carries_load == Judgement::holds);
  CHECK(found.cable_carries == Judgement::holds);
  CHECK(found.operates_in_time == Judgement::holds);

  in.device = OverloadDevice::fuse_gg;
  CHECK(overload(in).operates_in_time == Judgement::fails);
  in.capacity = 20.0 * ampere / 0.906;
  CHECK(overload(in).operates_in_time == Judgement::holds);
  in.capacity = 20.0 * ampere / 0.907;
  CHECK(overload(in).operates_in_time == Judgement::fails);
}

TEST_CASE("overload: each part fails on its own, and what is not known stays open") {
  const OverloadInput in{21.0 * ampere, 20.0 * ampere, std::nullopt};
  const OverloadCheck found = overload(in);
  CHECK(found.carries_load == Judgement::fails);
  CHECK(found.cable_carries == Judgement::unknown);
  CHECK(found.operates_in_time == Judgement::unknown);
  CHECK(overload({}).carries_load == Judgement::unknown);
}

TEST_CASE("overload: conventional currents by kind of device") {
  CHECK(conventional_operating_current(OverloadDevice::breaker_60898, 16.0 * ampere) ==
        1.45 * 16.0 * ampere);
  CHECK(conventional_operating_current(OverloadDevice::breaker_60947, 100.0 * ampere) ==
        130.0 * ampere);
  CHECK(conventional_operating_current(OverloadDevice::fuse_gg, 16.0 * ampere) ==
        1.6 * 16.0 * ampere);
  CHECK(conventional_operating_current(OverloadDevice::fuse_gg, 10.0 * ampere) == 19.0 * ampere);
}

TEST_CASE("neutral: the standard's own example, 39 A in a cable clipped to a wall") {
  // IEC 60364-5-52 Annex E: 20 % gives 39 / 0.86 = 45 A (10 mm2), 40 % gives 39 x 0.4 x 3 = 46.8 A
  // and 46.8 / 0.86 = 54.4 A (10 mm2), 50 % gives 39 x 0.5 x 3 = 58.5 A (16 mm2). From memory.
  CHECK(harmonic_load(39.0 * ampere, 0.10)->equivalent == 39.0 * ampere);
  CHECK(harmonic_load(39.0 * ampere, 0.20)->equivalent.in(ampere) == Approx(45.3).epsilon(0.01));
  CHECK(harmonic_load(39.0 * ampere, 0.40)->neutral.in(ampere) == Approx(46.8));
  CHECK(harmonic_load(39.0 * ampere, 0.40)->equivalent.in(ampere) == Approx(54.4).epsilon(0.001));
  CHECK(harmonic_load(39.0 * ampere, 0.50)->equivalent.in(ampere) == Approx(58.5));
}

TEST_CASE("neutral: borders of the bands and of what makes sense") {
  CHECK(harmonic_load(10.0 * ampere, 0.15)->factor == 1.0);
  CHECK(harmonic_load(10.0 * ampere, 0.33)->sizing == 10.0 * ampere);
  CHECK(harmonic_load(10.0 * ampere, 0.34)->sizing == 3.0 * 0.34 * (10.0 * ampere));
  CHECK(harmonic_load(10.0 * ampere, 0.46)->factor == 1.0);
  CHECK(!harmonic_load(10.0 * ampere, -0.01));
  CHECK(!harmonic_load(10.0 * ampere, 1.01));
}
