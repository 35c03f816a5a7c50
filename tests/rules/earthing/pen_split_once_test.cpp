#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule pen_split_once;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::pen_split_once, yaml, profile);
}

constexpr std::string_view hybrid = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: supply}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE(
    "PEN split: divided at the cut-out and joined by the inverter in island alone, it holds") {
  CHECK(sound(judged(hybrid)));
}

TEST_CASE("PEN split: a fixed link behind it is found") {
  const auto all = judged(rules::pen_split_once.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
  CHECK(broken_ones(all).front().message ==
        "'-X5' joins N and PE again behind the division of the PEN");
}

TEST_CASE("PEN split: the same link on the island's side is found where the grid reaches it") {
  const auto all =
      judged(with(hybrid, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X5: {at: -WB1}}}"));
  CHECK(states_with(all, Outcome::broken) == "grid");
}

TEST_CASE("PEN split: a link with a contact is left to the rule on second bonds") {
  CHECK(sound(judged(with(hybrid, "{-XE1: 20 ohm}}",
                          "{-XE1: 20 ohm}, links: {-X5: {at: A1, contact: yes, rest: open, "
                          "closed in: [grid]}}}"))));
}

TEST_CASE("PEN split: a supply of unknown earthing is not told from TN-S, and nothing is found") {
  CHECK(broken_ones(judged(with(hybrid, "earthing: TN-C-S, pen split: supply", ""))).empty());
}

TEST_CASE("PEN split: two boards that each divide the PEN are found, but not at outbuildings") {
  const std::string_view two = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-C-S, pen split: A1}
assemblies:
  +A0: {busbars: {-WB0: 63 A}}
  +A9: {busbars: {-WB9: 63 A}}
devices:
  -X9: PEN split
boards:
  +A1: {feed: [-WB0, -W1 4×16 mm² (L1 L2 L3 PEN) 5 m]}
chains:
  - [supply, -W0 4×16 mm² (L1 L2 L3 PEN) 5 m, -WB0]
  - [-WB0, -W9 4×16 mm² (L1 L2 L3 PEN) 50 m, -X9, -WB9]
states:
  grid: {}
)";
  CHECK(broken_ones(judged(two, "GB")).size() == 1);
  CHECK(broken_ones(judged(two, "NZ")).empty());
}

TEST_CASE("PEN split: silent on TN-S and TT") {
  CHECK(silent(judged(with(rules::pen_split_once.example, "TN-C-S, pen split: supply", "TN-S"))));
}

}  // namespace
}  // namespace linewright::tests
