#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule own_circuit;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::own_circuit, yaml, profile);
}

constexpr std::string_view car = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C32 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.36 kW, charging: {points: 1}}
      - {id: -F2, name: Lights, device: B10 1P+N 30 mA type A 6 kA, cable: 3×1.5 mm² 9 m, use: lighting}
states:
  grid: {}
)";

TEST_CASE("own circuit: one point on its own breaker holds") {
  CHECK(sound(judged(car)));
}

TEST_CASE("own circuit: two points on one breaker are found, unless each is protected") {
  CHECK(broken_ones(judged(rules::own_circuit.example)).size() == 1);
  CHECK(sound(judged(with(car, "points: 1", "points: 2, each protected: yes"))));
  CHECK(open_ones(judged(with(car, "points: 1", "points: 2"))).size() == 1);
}

TEST_CASE("own circuit: the device carries the point's current, to the ampere") {
  // 7360 W / 230 V = 32 A.
  CHECK(sound(judged(car)));
  const auto all = judged(with(car, "load: 7.36 kW", "load: 7.4 kW"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-F1");
  CHECK(broken_ones(all).front().message == "'-F1' is 32 A, 'Car' takes 32.17 A for hours");
}

TEST_CASE("own circuit: three phases share the current") {
  // 11.04 kW / (3 × 230 V) = 16 A.
  const auto three =
      with(with(with(with(car, "1/N/PE 230 V", "3/N/PE 230/400 V"), "3×16 mm²", "5×16 mm²"),
                "63 A 2P", "63 A 4P"),
           "C32 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.36 kW",
           "C16 4P 30 mA type B 6 kA, cable: 5×6 mm² 20 m, use: EV, load: 11.04 kW");
  CHECK(sound(judged(three)));
  CHECK(broken_ones(judged(with(three, "load: 11.04 kW", "load: 11.1 kW"))).size() == 1);
}

TEST_CASE("own circuit: number of points, load and rating that are not given are open") {
  CHECK(open_ones(judged(with(car, ", charging: {points: 1}", ""))).front().missing ==
        "'points' under 'charging' of 'Car'");
  CHECK(open_ones(judged(with(car, ", load: 7.36 kW", ""))).front().missing == "'load' of 'Car'");
  CHECK(open_ones(judged(with(car, "C32 2P 30 mA", "RCBO 2P 30 mA"))).front().missing ==
        "rated current of '-F1' (device)");
}

TEST_CASE("own circuit: another circuit on its breaker is found, one on its RCD is not") {
  const auto shared = with(
      with(car, "      - {id: -F1,",
           "      - group: -F9 RCBO C32 2P 30 mA type B\n        circuits:\n          - {id: -Q7,"),
      "device: C32 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m",
      "device: switch-disconnector 40 A 2P, cable: 3×6 mm² 20 m");
  const auto both =
      with(with(shared, "      - {id: -F2,", "          - {id: -Q8,"),
           "device: B10 1P+N 30 mA type A 6 kA", "device: switch-disconnector 40 A 2P");
  CHECK(sound(judged(shared)));
  REQUIRE(broken_ones(judged(both)).size() == 1);
  CHECK(broken_ones(judged(both)).front().message ==
        "'-F9' feeds 'Car' and others, must be its own");
  const auto on_rcd =
      with(with(both, "RCBO C32 2P", "RCD 40 A 2P"), "switch-disconnector 40 A 2P", "C32 2P");
  CHECK(sound(judged(on_rcd)));
}

TEST_CASE("own circuit: diversity needs management") {
  const auto half = with(car, "load: 7.36 kW", "load: 7.36 kW, diversity: 50 %");
  CHECK(open_ones(judged(half)).size() == 1);
  CHECK(broken_ones(judged(with(half, "points: 1", "points: 1, managed by: no"))).size() == 1);
  CHECK(sound(judged(with(half, "points: 1", "points: 1, managed by: -P1"))));
}

}  // namespace
}  // namespace linewright::tests
