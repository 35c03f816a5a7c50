#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bidirectional_where_energy_reverses;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& device, const std::string& far_end) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: battery, power: 3.7 kVA, battery: {energy: 5 kWh}}
chains:
  - [A1, -F5 )" +
         device + ", -W5 3×4 mm² 8 m, " + far_end + "]\nstates:\n  grid: {}\n";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::bidirectional_where_energy_reverses, yaml);
}

TEST_CASE("bidirectional: a two-way RCBO ahead of a battery inverter is sound") {
  CHECK(sound(ask(house("C20 2P 30 mA type A two-way", "-T1:ac"))));
}

TEST_CASE("bidirectional: a one-way RCBO with an inverter on its load side is found") {
  const auto all = ask(house("C20 2P 30 mA type A one-way", "-T1:ac"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F5", "grid"));
  CHECK(broken_ones(all).front().message ==
        "one-way '-F5' has '-T1' on its load side, must be two-way");
}

TEST_CASE("bidirectional: a one-way RCBO that feeds only sockets is sound") {
  const auto all = ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A one-way, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {kind: battery, power: 3.7 kVA, battery: {energy: 5 kWh}}
chains:
  - [A1, -F5 C20 2P, -W5 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)");
  CHECK(sound(all));
  CHECK(says(all, Outcome::holds, "-F1"));
}

TEST_CASE("bidirectional: a direction that is not stated is open, not a pass") {
  const auto all = ask(house("C20 2P 30 mA type A", "-T1:ac"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "direction of '-F5' (device: … two-way, or one-way)");
}

TEST_CASE("bidirectional: a plain breaker without a word on direction is no finding") {
  CHECK(sound(ask(house("C20 2P", "-T1:ac"))));
}

/// A bar fed from the grid through one device, or from the generator.
std::string two_feeds(const std::string& direction) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G1: {power: 6 kVA, neutral: floating, fixed: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
chains:
  - [A1, -F5 C20 2P 30 mA type A )" +
         direction + R"(, -W5 3×4 mm² 8 m, -WB2]
  - [-G1, -Q2 switch-disconnector 63 A 2P normally open, -WB2]
busbars: {-WB2: 63 A}
states:
  grid: {}
  generator: {-Q1: open, -Q2: closed}
  off and on the generator: {-Q1: open, -F5: open, -Q2: closed, running: [-G1]}
)";
}

TEST_CASE(
    "bidirectional: a one-way RCBO that the grid feeds from above and the generator from below") {
  const auto all = ask(two_feeds("one-way"));
  CHECK(states_with(all, Outcome::broken) == "generator off and on the generator");
  CHECK(states_with(all, Outcome::holds) == "grid");
}

TEST_CASE("bidirectional: fed from both sides in turn, a direction not stated is open as well") {
  CHECK(open_ones(ask(two_feeds(""))).size() == 1);
  CHECK(sound(ask(two_feeds("two-way"))));
}

}  // namespace
}  // namespace linewright::tests
