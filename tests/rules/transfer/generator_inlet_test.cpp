#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule generator_inlet;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::generator_inlet;

std::string plugged(std::string_view connector, std::string_view poles = "2P",
                    std::string_view profile = "international") {
  return "profile: " + std::string(profile) +
         "\n"
         "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 3 kVA, neutral: floating, fixed: no}\n"
         "devices:\n"
         "  -Q1: {device: changeover I-0-II 63 A " +
         std::string(poles) +
         " by hand, break before make: yes}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [-Q1, -W4 3×6 mm² 5 m]\n"
         "chains:\n"
         "  - [supply, -Q1:I]\n"
         "  - [-G2, -W2 3×6 mm² 9 m" +
         std::string(connector) +
         ", -Q1:II]\n"
         "states:\n"
         "  grid: {-Q1: I}\n"
         "  generator: {-Q1: II}\n";
}

TEST_CASE("generator inlet: a socket-outlet with a lead of two plugs is a danger") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-X1");
}

TEST_CASE("generator inlet: an inlet behind a changeover of all live conductors holds") {
  CHECK(sound(verdicts(rule, plugged(", -X1 inlet 32 A"))));
}

TEST_CASE("generator inlet: a portable set without a connector is open") {
  const auto all = verdicts(rule, plugged(""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].element == "-G2");
}

/// The neutral pin has a switch of its own, which an interlock keeps open on the grid.
std::string neutral_pin_opened(std::string_view means) {
  return plugged(", -X1 inlet 32 A, -Q5 switch-disconnector 40 A 2P normally open", "1P", "AU") +
         "interlocks:\n  - {never together: [-Q1: I, -Q5: closed], by: " + std::string(means) +
         "}\n";
}

TEST_CASE("generator inlet: where the country keeps the neutral, the neutral pin is still opened") {
  const auto solid = verdicts(rule, plugged(", -X1 inlet 32 A", "1P", "AU"));
  CHECK(says(solid, Outcome::broken, "-X1", "grid"));
  CHECK(sound(verdicts(rule, neutral_pin_opened("mechanical"))));
}

TEST_CASE("generator inlet: no hand may join the neutral pin to the grid while it is unplugged") {
  const std::string held = neutral_pin_opened("key");
  CHECK(sound(verdicts(rule, held)));
  const auto by_wires = verdicts(rule, neutral_pin_opened("electrical"));
  REQUIRE(broken_ones(by_wires).size() == 1);
  CHECK(broken_ones(by_wires)[0].message ==
        "moving '-Q5' joins the neutral pin of '-X1' to the supply while unplugged");
  const std::string free = held.substr(0, held.find("interlocks:"));
  CHECK(says(verdicts(rule, free), Outcome::broken, "-X1", "grid"));
  CHECK(sound(verdicts(rule, with(free, "normally open", "normally open by controller"))));
}

TEST_CASE(
    "generator inlet: an interlock of unknown means leaves the neutral pin open to question") {
  const std::string yaml = with(neutral_pin_opened("key"), ", by: key", "");
  CHECK(says(verdicts(rule, yaml), Outcome::open, "-X1", "grid"));
}

TEST_CASE("generator inlet: elsewhere a solid neutral is told by the rule on isolating the grid") {
  CHECK(broken_ones(verdicts(rule, plugged(", -X1 inlet 32 A", "1P"))).empty());
}

TEST_CASE("generator inlet: pins of an inlet straight on the busbar are live on the grid") {
  const auto all = verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 3 kVA, neutral: floating, fixed: no}
boards:
  +A1:
    feed: [supply, -Q1 switch-disconnector 63 A 2P]
chains:
  - [-G2, -W2 3×6 mm² 9 m, -X1 inlet 32 A, -F2 C16 2P, A1]
states:
  grid: {}
  generator: {-Q1: open}
)");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-X1");
  CHECK(broken_ones(all)[0].state == "grid");
}

TEST_CASE(
    "generator inlet: a fixed set without connector, and a set for one tool, are not judged") {
  CHECK(silent(verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 3×6 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
)")));
}

}  // namespace
}  // namespace linewright::tests
