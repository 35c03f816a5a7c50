#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule vehicle_as_source;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::vehicle_as_source, yaml, profile);
}

constexpr std::string_view car = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T9: {kind: battery, grid: forming, power: 7 kVA, bond: closes in island, bond rest: open, synchronises at: [-Q1]}
devices:
  -Q1: {device: contactor 63 A 2P, mirror contact: yes}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q10 switch-disconnector 63 A 2P isolating lockable, -Q1]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW,
         charging: {points: 1, gives back: home, vehicle: -T9}}
chains:
  - [-T9:ac, -W9 3×6 mm² 3 m, A1]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T9]}
)";

TEST_CASE("vehicle: one that only charges holds") {
  CHECK(sound(judged(with(car, "gives back: home, vehicle: -T9", "gives back: no"))));
}

TEST_CASE("vehicle: entered as a source on its circuit and shown in island it holds") {
  CHECK(sound(judged(car)));
  CHECK(sound(judged(with(car, "gives back: home", "gives back: grid"))));
}

TEST_CASE("vehicle: a source on another circuit is found") {
  const auto all = judged(rules::vehicle_as_source.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'-T9' stands for the vehicle on 'Car', but on another circuit");
}

TEST_CASE("vehicle: one that only follows cannot feed the home alone, but the grid") {
  const auto follows = with(with(car, "grid: forming", "grid: following"),
                            "bond: closes in island, bond rest: open", "bond: none");
  CHECK(broken_ones(judged(follows)).size() == 1);
  CHECK(sound(judged(with(follows, "gives back: home", "gives back: grid"))));
}

TEST_CASE("vehicle: not entered, not shown, or not told it is open") {
  CHECK(open_ones(judged(with(car, ", gives back: home, vehicle: -T9", ""))).front().missing ==
        "'gives back' under 'charging' of 'Car'");
  CHECK(open_ones(judged(with(car, ", vehicle: -T9", ""))).size() == 1);
  CHECK(open_ones(judged(with(car, "vehicle: -T9", "vehicle: -T5"))).size() == 1);
  CHECK(
      open_ones(judged(with(car, "\n  island: {-Q1: open, running: [-T9]}", ""))).front().missing ==
      "a state in which '-T9' runs (states: … running: [-T9])");
}

TEST_CASE("vehicle: its own socket-outlet is asked on site") {
  const auto all = judged(with(car, "gives back: home, vehicle: -T9", "gives back: socket"));
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all).front().expected ==
        "no lead and no inlet for it; it feeds single items only");
}

TEST_CASE("vehicle: as a source it is judged like any other") {
  // Its link never closes: then the island it forms has no joint.
  CHECK(rules_broken(report_on(with(car, "bond: closes in island, bond rest: open", "bond: none")))
            .find("earthing/bond-present-when-islanded") != std::string::npos);
}

}  // namespace
}  // namespace linewright::tests
