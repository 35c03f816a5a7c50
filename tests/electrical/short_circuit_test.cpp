#include "electrical/short_circuit.hpp"

#include <numbers>
#include <vector>

#include "electrical/near.hpp"
#include "electrical/source_impedance.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("short circuit: a published study of five points") {
  // 380 V; in milliohm: source j0.2888, transformer j4.1515, then the study's R and X at each
  // board. Published: 49.41, 48.18, 28.55, 24.26 (12 m of 0.0812 + j0.090 more), 27.84 kA.
  // Tolerance 0.1 %.
  const auto at = [](double r, double x) {
    return three_phase_fault(1.0, 380.0 * volt, {r * milliohm, x * milliohm});
  };
  CHECK(near(at(0, 0.2888 + 4.1515), 49.41 * kiloampere, 0.001));
  CHECK(near(at(0.1015, 4.5528), 48.18 * kiloampere, 0.001));
  CHECK(near(at(2.5375, 7.2528), 28.55 * kiloampere, 0.001));
  CHECK(near(at(2.5375 + 12 * 0.0812, 7.2528 + 12 * 0.090), 24.26 * kiloampere, 0.001));
  CHECK(near(at(3.0805, 7.2528), 27.84 * kiloampere, 0.001));
}

TEST_CASE("short circuit: two lines, and one against the neutral") {
  const Impedance z{20.0 * milliohm, 10.0 * milliohm};
  const Current three = three_phase_fault(1.0, 400.0 * volt, z);
  CHECK(near(line_to_line_fault(1.0, 400.0 * volt, z), 0.8660254 * three, 1e-7));
  // The loop has the line twice over if the neutral is alike: half the current.
  const Voltage u0 = 400.0 * volt / std::numbers::sqrt3;
  CHECK(near(magnitude(loop_fault(1.0, u0, z + z)), 0.5 * three, 1e-9));
}

TEST_CASE("short circuit: the peak factor between its ends") {
  // R/X = 0.3: 1.02 + 0.98 e^-0.9 = 1.4184.
  CHECK(peak_factor({3.0 * ohm, 10.0 * ohm}) == Approx(1.4184).epsilon(1e-4));
  CHECK(peak_factor({0.0 * ohm, 1.0 * ohm}) == Approx(2.0));
  CHECK(peak_factor({1.0 * ohm, 0.0 * ohm}) == Approx(1.02));
  CHECK(near(peak_current(10.0 * kiloampere, {3.0 * ohm, 10.0 * ohm}), 20.06 * kiloampere, 1e-3));
  double before = 2.01;
  for (double r = 0.0; r < 3.0; r += 0.1) {
    const double here = peak_factor({r * ohm, 1.0 * ohm});
    CHECK(here < before);
    before = here;
  }
}

TEST_CASE("short circuit: inverters widen what is known") {
  const CurrentPhasor machines = polar(100.0 * ampere, -1.0);
  const Bounds<Current> both = with_converters(machines, {20.0 * ampere, 40.0 * ampere});
  CHECK(near(both.least, 100.0 * ampere, 1e-12));
  CHECK(near(both.most, 140.0 * ampere, 1e-12));
  const Bounds<Current> alone = with_converters({}, {20.0 * ampere, 40.0 * ampere});
  CHECK(alone.least == 20.0 * ampere);
  CHECK(alone.most == 40.0 * ampere);
  // Whatever the angle up to a quarter turn, the true sum stays within.
  const double away = GENERATE(take(30, random(-1.57, 1.57)));
  const Current sum = magnitude(machines + polar(30.0 * ampere, -1.0 + away));
  CHECK(sum >= both.least);
  CHECK(sum <= both.most);
}

TEST_CASE("short circuit: an inverter that may have stopped surely gives nothing") {
  ConverterFault inverter{22.0 * ampere, {1.5, 2.0}, 0.5 * second};
  CHECK(converter_current(inverter, 0.4 * second).least == 33.0 * ampere);
  CHECK(converter_current(inverter, 0.4 * second).most == 44.0 * ampere);
  CHECK(converter_current(inverter, 5.0 * second).least == 0.0 * ampere);
  inverter.lasts.reset();
  CHECK(converter_current(inverter, 0.01 * second).least == 0.0 * ampere);
}

TEST_CASE("short circuit: breaking capacity, alone and with a fuse ahead") {
  const std::vector<ConditionalRating> published{{"gG 63", 50.0 * kiloampere}};
  BreakingInput in{6.0 * kiloampere, published, "", 6.0 * kiloampere};
  CHECK(breaks(in) == Judgement::holds);
  in.prospective = 6.1 * kiloampere;
  CHECK(breaks(in) == Judgement::fails);
  in.back_up = "gG 63";
  CHECK(breaks(in) == Judgement::holds);
  in.prospective = 51.0 * kiloampere;
  CHECK(breaks(in) == Judgement::fails);
  in.back_up = "gG 80";
  CHECK(breaks(in) == Judgement::unknown);
  in.prospective = 5.0 * kiloampere;
  CHECK(breaks(in) == Judgement::holds);
  in.prospective.reset();
  CHECK(breaks(in) == Judgement::unknown);
  in = {std::nullopt, {}, "", 1.0 * kiloampere};
  CHECK(breaks(in) == Judgement::unknown);
}

TEST_CASE("short circuit: two sources into one fault, by hand and behind a common cable") {
  // 230 V over 1 ohm and over j1 ohm: 230 - j230 A, 325.27 A. Together they are 230 V behind
  // 1 x j1 / (1 + j1) = 0.5 + j0.5 ohm; with 0.5 ohm of cable more: 230 / |1 + j0.5| = 205.72 A.
  const VoltagePhasor u = polar(230.0 * volt, 0.0);
  const std::vector<FeedingSource> two{{u, {1.0 * ohm, 0.0 * ohm}}, {u, {0.0 * ohm, 1.0 * ohm}}};
  CHECK(near(magnitude(fault_of_sources(two)), 325.27 * ampere, 1e-5));
  const FeedingSource one = combined(two);
  CHECK(near(magnitude(one.voltage), 230.0 * volt, 1e-9));
  CHECK(near(one.impedance.re, 0.5 * ohm, 1e-9));
  CHECK(near(one.impedance.im, 0.5 * ohm, 1e-9));
  CHECK(near(magnitude(one.voltage / (one.impedance + Impedance{0.5 * ohm, {}})), 205.72 * ampere,
             1e-5));
}

TEST_CASE("short circuit: phasors add to no more than their sizes, and a source more adds") {
  const double x_over_r = GENERATE(take(20, random(0.05, 20.0)));
  const VoltagePhasor u = polar(230.0 * volt, 0.0);
  const FeedingSource network{u, impedance(0.1 * ohm, 2.0)};
  const FeedingSource generator{u, impedance(0.7 * ohm, x_over_r)};
  const Current alone = magnitude(fault_of_sources(std::vector{network}));
  const Current together = magnitude(fault_of_sources(std::vector{network, generator}));
  CHECK(together > alone);
  CHECK(together <= alone + magnitude(fault_of_sources(std::vector{generator})) + 1e-9 * ampere);
}
