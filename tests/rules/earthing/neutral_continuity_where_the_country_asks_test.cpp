#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule neutral_continuity_where_the_country_asks;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::neutral_continuity_where_the_country_asks, yaml, profile);
}

constexpr std::string_view joined = R"(
profile: AU
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: A1}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: joined, bond: none}
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("neutral continuity: an inverter that keeps the neutral joined holds in every state") {
  const auto all = judged(joined);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "grid island");
}

TEST_CASE("neutral continuity: an inverter that opens it is found in island") {
  const auto all = judged(rules::neutral_continuity_where_the_country_asks.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().message == "'-T1' opens the main neutral, must stay joined");
}

TEST_CASE("neutral continuity: a bond of its own does not excuse the inverter") {
  const auto all = judged(with(rules::neutral_continuity_where_the_country_asks.example,
                               "bond: none", "bond: closes in island, bond rest: open"));
  CHECK(states_with(all, Outcome::broken) == "island");
}

TEST_CASE("neutral continuity: a two-pole switch that opens it is found at the switch") {
  const auto all = judged(with(with(joined, "states:",
                                    "devices:\n  -Q1: contactor 63 A 2P normally "
                                    "closed\nstates:"),
                               "-W2 3×6 mm² 3 m, -T1:ac", "-W2 3×6 mm² 3 m, -Q1, -T1:ac")
                              .append("  cut: {-Q1: open, kind: island, running: [-T1]}\n"));
  CHECK(says(all, Outcome::broken, "-Q1", "cut"));
  CHECK(says(all, Outcome::holds, "-T1", "island"));
}

TEST_CASE("neutral continuity: an inverter that does not say what it does with N is open") {
  const auto all = judged(with(joined, "neutral in island: joined, ", ""));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-T1", "island"));
}

TEST_CASE("neutral continuity: where the country opens the neutral it is not asked for") {
  CHECK(silent(judged(rules::neutral_continuity_where_the_country_asks.example, "GB")));
}

}  // namespace
}  // namespace linewright::tests
