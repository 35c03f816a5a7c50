#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_at_the_first_common_point;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_at_the_first_common_point, yaml, profile);
}

constexpr std::string_view two_boards = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A3, contact: yes, rest: open, closed in: [island], proved by: [-T1]}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-T1:backup, -F3 C32 2P, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
  +A4:
    feed: [A3, -Q4 switch-disconnector 40 A 2P, -W4 3×6 mm² 9 m]
    circuits:
      - {id: -F41, name: Sockets, device: B16 1P+N 30 mA type A two-way, cable: 3×2.5 mm² 9 m, use: sockets}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("first common point: a link on the first bar holds, behind a breaker that feeds it all") {
  const auto all = judged(two_boards);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "island");
}

TEST_CASE("first common point: a link in a sub-board is lost with its feeder") {
  const auto all = judged(rules::bond_at_the_first_common_point.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
  CHECK(broken_ones(all).front().message ==
        "opening '-Q4' leaves 'Lights' alive without the joint at '-X5'");
}

TEST_CASE("first common point: a sub-board that feeds everything may carry the link") {
  CHECK(sound(judged(with(with(two_boards, "{at: A3,", "{at: A4,"),
                          "      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, "
                          "cable: 3×1.5 mm² 9 m, use: lighting}\n",
                          ""))));
}

TEST_CASE("first common point: a feeder that leaves the neutral joined takes nothing away") {
  const auto sub = with(two_boards, "{at: A3,", "{at: A4,");
  CHECK(says(judged(sub), Outcome::broken, "-X5", "island"));
  CHECK(sound(judged(with(sub, "switch-disconnector 40 A 2P", "switch-disconnector 40 A 1P"))));
}

TEST_CASE("first common point: a feeder of unknown poles is open") {
  const auto all = judged(with(with(two_boards, "{at: A3,", "{at: A4,"),
                               "switch-disconnector 40 A 2P", "switch-disconnector 40 A"));
  CHECK(broken_ones(all).empty());
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "poles of '-Q4' (device: … 2P, 4P)");
}

TEST_CASE(
    "first common point: of two inverters, the one without the joint loses it with a breaker") {
  const std::string_view site = R"(
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: battery, phases: 1, grid: forming, bond: always closed}
  -T2: {kind: battery, phases: 1, grid: forming, bond: none}
synchronised: [[-T1, -T2]]
boards:
  +A3:
    feed: [-T1:ac, -F1 C32 2P, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
chains:
  - [-T2:ac, -F2 C32 2P, -W4 3×6 mm² 3 m, A3]
states:
  island: {running: [-T1, -T2]}
)";
  const auto all = judged(site);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "opening '-F1' leaves 'Lights' alive without the joint at '-T1'");
  CHECK(sound(judged(with(with(site, "always closed", "none"), "{-XE1: 20 ohm}}",
                          "{-XE1: 20 ohm}, links: {-X5: {at: A3}}}"))));
}

TEST_CASE("first common point: on the grid the supplier's joint is not looked at") {
  CHECK(states_with(judged(two_boards), Outcome::not_relevant) == "grid");
}

}  // namespace
}  // namespace linewright::tests
