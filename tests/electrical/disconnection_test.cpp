#include "electrical/disconnection.hpp"

#include <cmath>

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

namespace {

double limit(FaultPath path, CurrentKind current, double volts,
             CircuitKind circuit = CircuitKind::final_circuit) {
  return disconnection_limit({path, current, volts * volt, circuit})->in(second);
}

}  // namespace

TEST_CASE("disconnection: Table 41.1, each cell at its border") {
  constexpr auto ac = CurrentKind::alternating;
  constexpr auto dc = CurrentKind::direct;
  CHECK(limit(FaultPath::tn, ac, 120) == 0.8);
  CHECK(limit(FaultPath::tn, ac, 230) == 0.4);
  CHECK(limit(FaultPath::tn, ac, 231) == 0.2);
  CHECK(limit(FaultPath::tn, ac, 401) == 0.1);
  CHECK(limit(FaultPath::tt, ac, 120) == 0.3);
  CHECK(limit(FaultPath::tt, ac, 230) == 0.2);
  CHECK(limit(FaultPath::tt, ac, 400) == 0.07);
  CHECK(limit(FaultPath::tt, ac, 401) == 0.04);
  CHECK(limit(FaultPath::tn, dc, 230) == 1.0);
  CHECK(limit(FaultPath::tn, dc, 400) == 0.4);
  CHECK(limit(FaultPath::tt, dc, 230) == 0.4);
  CHECK(std::isinf(limit(FaultPath::tt, dc, 120)));
  CHECK(std::isinf(limit(FaultPath::tn, ac, 50, CircuitKind::distribution)));
  CHECK(limit(FaultPath::tn, ac, 230, CircuitKind::distribution) == 5.0);
  CHECK(limit(FaultPath::tt, ac, 230, CircuitKind::distribution) == 1.0);
  CHECK(!disconnection_limit({FaultPath::tn, ac, 0.0 * volt, CircuitKind::final_circuit}));
}

TEST_CASE("disconnection: a shower's loop, 0.53 ohm") {
  // A forum's calculation: Ze 0.15, 30 m of 10.49 mohm/m (6 and 2.5 mm2), hot by 1.2. It prints
  // 0.52, cut off; 2 %. Its limit for the breaker is 1.92 ohm.
  const Impedance loop{0.15 * ohm + 1.2 * (10.49 * milliohm_per_metre) * (30.0 * metre), {}};
  CHECK(near(magnitude(loop), 0.52 * ohm, 0.02));
  CHECK(disconnects(1.0, 230.0 * volt, loop, 230.0 * volt / (1.92 * ohm)) == Judgement::holds);
}

TEST_CASE("disconnection: a 20 A fuse of two editions") {
  // 113 A for 0.4 s: 2.04 ohm, and with 0.95 of the voltage 1.93 ohm as the later edition prints.
  CHECK(near(highest_loop_impedance(1.0, 230.0 * volt, 113.0 * ampere), 2.04 * ohm, 0.005));
  CHECK(near(highest_loop_impedance(0.95, 230.0 * volt, 113.0 * ampere), 1.93 * ohm, 0.005));
}

TEST_CASE("disconnection: how long a lighting circuit may be by its loop") {
  // Readers of a forum: (9.58 x 0.75 - 0.45) / 36.2 mohm/m = 185 m (1 %).
  const Resistance left = 0.75 * (9.58 * ohm) - 0.45 * ohm;
  const Length longest = left / (36.2 * milliohm_per_metre);
  CHECK(near(longest, 185.0 * metre, 0.01));
  const Impedance loop{0.45 * ohm + left, {}};
  CHECK(disconnects(0.75, 230.0 * volt, loop, 230.0 * volt / (9.581 * ohm)) == Judgement::holds);
  CHECK(disconnects(0.75, 230.0 * volt, loop, 230.0 * volt / (9.579 * ohm)) == Judgement::fails);
}

TEST_CASE("disconnection: unknown loop or device is open") {
  CHECK(disconnects(1.0, 230.0 * volt, std::nullopt, 80.0 * ampere) == Judgement::unknown);
  CHECK(disconnects(1.0, 230.0 * volt, Impedance{}, std::nullopt) == Judgement::unknown);
}

TEST_CASE("disconnection: electrodes by residual current") {
  // A test set's manual rounds up: 1667, 500, 167, 100, 50 ohm for 50 V; 833 … 25 for 25 V. An
  // on-site guide: 200 ohm needs 250 mA at most.
  for (const auto& [ma, ohms] :
       {std::pair{30.0, 1667.0}, {100.0, 500.0}, {300.0, 167.0}, {500.0, 100.0}, {1000.0, 50.0}}) {
    const Resistance found = highest_electrode_resistance(50.0 * volt, ma * milliampere);
    CHECK(near(found, ohms * ohm, 0.002));
    CHECK(found.in(ohm) <= ohms);
    CHECK(near(highest_electrode_resistance(25.0 * volt, ma * milliampere), 0.5 * found, 1e-12));
  }
  CHECK(near(highest_electrode_resistance(50.0 * volt, 250.0 * milliampere), 200.0 * ohm, 1e-12));
}

TEST_CASE("disconnection: a guide's longest circuits behind type D breakers") {
  // 230/400 V, 0.023 ohm mm2/m, m = 1, 14 In; 50 mm2 counts as 47.5. 1 m.
  // Left out: the guide's 20 A column from 4 mm2 up, 1.4 times too long, and the last two of 35
  // mm2, swapped.
  struct Line {
    double size, rated, metres;
  };
  for (const Line& line :
       {Line{1.5, 1, 429}, Line{1.5, 6, 71}, Line{1.5, 10, 43}, Line{1.5, 16, 27},
        Line{1.5, 32, 13}, Line{2.5, 1, 714}, Line{2.5, 16, 45}, Line{2.5, 20, 36},
        Line{2.5, 63, 11}, Line{16, 10, 457}, Line{16, 16, 286}, Line{16, 63, 73},
        Line{16, 125, 37}, Line{47.5, 16, 848}, Line{47.5, 25, 543}, Line{47.5, 125, 109}}) {
    // The current at a metre, divided by the one that must flow, is the longest length in metres.
    const auto at_one_metre = conventional_loop_current(
        {230.0 * volt, 0.023 * ohm_mm2_per_metre, 1.0 * metre, line.size * mm2, 1.0});
    CHECK(std::abs(*at_one_metre / (14.0 * line.rated * ampere) - line.metres) <= 1.0);
  }
}

TEST_CASE("disconnection: an aluminium feeder with a halved PEN") {
  // The same guide: 63 A type B, 50 and 25 mm2: 0.42 x 603 = 253 m (2 %; both figures from memory).
  const auto at = conventional_loop_current(
      {230.0 * volt, 0.037 * ohm_mm2_per_metre, 1.0 * metre, 47.5 * mm2, 2.0});
  CHECK(*at / (5.0 * 63.0 * ampere) == Approx(253).epsilon(0.02));
}

TEST_CASE("disconnection: a guide's lengths for magnetic releases, line against neutral") {
  // L = 0.8 U0 S / (2 rho 1.2 Im): 0.5 m.
  struct Line {
    double amps, size, metres;
  };
  for (const Line& line :
       {Line{63, 1.5, 79}, Line{100, 1.5, 50}, Line{100, 2.5, 83}, Line{200, 16, 267},
        Line{500, 25, 167}, Line{400, 47.5, 396}, Line{1000, 120, 400}}) {
    const auto at = conventional_loop_current(
        {230.0 * volt, 0.023 * ohm_mm2_per_metre, 1.0 * metre, line.size * mm2, 1.0});
    CHECK(std::abs(*at / (1.2 * line.amps * ampere) - line.metres) <= 0.5);
  }
}

TEST_CASE("disconnection: the conventional loop refuses what makes no sense") {
  const ConventionalLoop good{230.0 * volt, 0.023 * ohm_mm2_per_metre, 10.0 * metre, 2.5 * mm2,
                              1.0};
  REQUIRE(conventional_loop_current(good));
  ConventionalLoop bad = good;
  bad.length = 0.0 * metre;
  CHECK(!conventional_loop_current(bad));
  bad = good;
  bad.m = -1;
  CHECK(!conventional_loop_current(bad));
  bad = good;
  bad.reactance_factor = 0.9;
  CHECK(!conventional_loop_current(bad));
  bad = good;
  bad.length = 20.0 * metre;
  CHECK(near(*conventional_loop_current(bad), 0.5 * *conventional_loop_current(good), 1e-12));
}
