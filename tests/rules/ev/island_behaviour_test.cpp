#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule island_behaviour;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::island_behaviour, yaml, profile);
}

constexpr std::string_view backed_up = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -P1 meter two-way]}
  +A3:
    feed: [-T1:backup, -W3 3×10 mm² 3 m, -P2 meter]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW, charging: {points: 1, in island: off}}
chains:
  - [A1, -W2 3×10 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";

std::vector<Verdict> doing(std::string_view what) {
  return judged(with(backed_up, "in island: off", what));
}

TEST_CASE("car in island: switched off it holds, in island alone") {
  CHECK(sound(judged(backed_up)));
  CHECK(states_with(judged(backed_up), Outcome::holds) == "island");
}

TEST_CASE("car in island: one that charges on is found") {
  const auto all = judged(rules::island_behaviour.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().state == "island");
}

TEST_CASE("car in island: held back to what the inverter gives, no more") {
  CHECK(sound(doing("in island: 5 kW")));
  const auto all = doing("in island: 5.1 kW");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'Car' is held back to 5.1 kW, '-T1' gives 5 kVA");
}

TEST_CASE("car in island: the meter that holds it back must see the island") {
  CHECK(sound(doing("in island: held back, managed by: -P2")));
  const auto all = doing("in island: held back, managed by: -P1");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "meter '-P1' does not see what '-T1' gives 'Car'");
  CHECK(broken_ones(doing("in island: held back, managed by: no")).size() == 1);
}

TEST_CASE("car in island: what it does, by what, and of how much may be open") {
  CHECK(open_ones(doing("gives back: no")).front().missing ==
        "'in island' under 'charging' of 'Car'");
  CHECK(open_ones(doing("in island: held back")).front().missing ==
        "'managed by' under 'charging' of 'Car'");
  CHECK(open_ones(doing("in island: held back, managed by: -P9")).size() == 1);
  CHECK(open_ones(judged(with(with(backed_up, "in island: off", "in island: 2 kW"),
                              "power: 5 kVA, ", "")))
            .front()
            .missing == "'power' of '-T1'");
}

TEST_CASE("car in island: one that the island does not feed holds whatever it would do") {
  const auto apart = with(with(backed_up, "in island: off", "in island: goes on"),
                          "feed: [-T1:backup, -W3 3×10 mm² 3 m, -P2 meter]",
                          "feed: [A1, -W3 3×10 mm² 3 m, -P2 meter]");
  CHECK(sound(judged(apart)));
}

TEST_CASE("car in island: a circuit that is shed there is off") {
  CHECK(sound(judged(with(backed_up, "load: 7.4 kW, charging: {points: 1, in island: off}",
                          "load: 7.4 kW, shed in island: yes"))));
}

TEST_CASE("car in island: a site that has no island is not asked") {
  CHECK(silent(judged(with(backed_up, "\n  island: {running: [-T1]}", ""))));
}

}  // namespace
}  // namespace linewright::tests
