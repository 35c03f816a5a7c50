#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule one_neutral_bond_per_state;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::one_neutral_bond_per_state, yaml, profile);
}

constexpr std::string_view hybrid = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
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
constexpr std::string_view changeover = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 4P by hand
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

TEST_CASE(
    "one bond per state: the supply's on the grid and the inverter's in island are one each") {
  const auto all = judged(hybrid);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "grid island");
}

TEST_CASE("one bond per state: two inverters that both bond in island are found, both named") {
  const auto all = judged(rules::one_neutral_bond_per_state.example);
  REQUIRE(broken_ones(all).size() == 1);
  const Verdict found = broken_ones(all).front();
  CHECK(found.state == "island");
  CHECK(found.element == "-T2");
  CHECK(found.message == "neutral and earth are joined 2 times, must be 1");
  REQUIRE(found.notes.size() == 1);
  CHECK(found.notes.front().text == "'-T1' joins them too");
}

TEST_CASE("one bond per state: of two inverters in parallel one bond is enough") {
  CHECK(sound(judged(with(rules::one_neutral_bond_per_state.example, "-T2: {use: five kVA}",
                          "-T2: {use: five kVA, bond: none}"))));
}

TEST_CASE("one bond per state: a second contact of unknown behaviour is open, not a pass") {
  const auto all = judged(with(with(with(rules::one_neutral_bond_per_state.example,
                                         "bond: closes in island, bond rest: open", ""),
                                    "opened, }", "opened}"),
                               "-T1: {use: five kVA}",
                               "-T1: {use: five kVA, bond: closes in island, bond rest: open}"));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-T2", "island"));
}

TEST_CASE("one bond per state: a supply of unknown earthing is open and asks for it") {
  const auto all = judged(with(hybrid, ", earthing: TN-S", ""));
  CHECK(broken_ones(all).empty());
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'earthing' of 'supply'");
}

TEST_CASE("one bond per state: an IT supply has none, and another rule asks for its monitor") {
  const auto all = judged(with(hybrid, "TN-S", "IT"));
  CHECK(says(all, Outcome::not_relevant, "-X0", "grid"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("one bond per state: a bond at the generator and one at the supply are never together") {
  CHECK(sound(judged(changeover)));
}

TEST_CASE("one bond per state: none in island is left to the rule that knows the cause") {
  const auto all = judged(with(hybrid, "bond: closes in island", "bond: none"));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::not_relevant, "-T1", "island"));
}

TEST_CASE("one bond per state: a link that is a second one on the grid is told of there alone") {
  const auto all =
      judged(with(hybrid, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X5: {at: -WB1}}}"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE(
    "one bond per state: a live circuit whose neutral reaches no source is found at the pole") {
  const auto all = judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
devices:
  -K2: contactor 63 A normally open
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² (L1 PE) 5 m]
    circuits:
      - {id: -F11, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: fixed}
      - {id: -F12, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: fixed}
chains:
  - [supply, -W2 1×16 mm² (N) 5 m, -K2, A1]
states:
  grid: {}
)");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-K2");
  CHECK(broken_ones(all).front().message ==
        "a live circuit's neutral reaches no source that feeds it");
}

TEST_CASE("one bond per state: an inverter that no state shows alone is open, not a pass") {
  constexpr std::string_view shown_on_grid_only = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
)";
  const auto open = open_ones(judged(shown_on_grid_only));
  REQUIRE(open.size() == 1);
  CHECK(open.front().element == "-T1");
  CHECK(open_ones(judged(with(shown_on_grid_only, "grid: {}", "island: {running: [-T1]}")))
            .front()
            .message == "what happens when the supply feeds the loads");
  CHECK(open_ones(judged(with(shown_on_grid_only, "  grid: {}", "  off: {}"))).size() == 2);
  CHECK(open_ones(
            judged(with(shown_on_grid_only, "grid: {}", "grid: {}\n  island: {running: [-T1]}")))
            .empty());
}

TEST_CASE("one bond per state: a battery inverter of unknown kind is open, not a pass") {
  constexpr std::string_view battery = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: battery, power: 3 kVA}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
)";
  const auto open = open_ones(judged(battery));
  REQUIRE(open.size() == 1);
  CHECK(open.front().missing == "'grid' of '-T1': forming or following");
  CHECK(sound(judged(with(battery, "power: 3 kVA", "grid: following"))));
}

TEST_CASE(
    "one bond per state: an island only after a hand has moved leaves the moment before open") {
  constexpr std::string_view by_hand = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: joined, bond: closes in island, bond rest: open}
devices:
  -Q1: switch-disconnector 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -Q1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {-Q1: open, running: [-T1]}
)";
  const auto open = open_ones(judged(by_hand));
  REQUIRE(open.size() == 1);
  CHECK(open.front().message == "what happens when the supply fails and '-T1' takes over");
  CHECK(open.front().state == "grid");
  CHECK(open_ones(judged(with(by_hand, "63 A 2P by hand", "63 A 2P by controller"))).empty());
  CHECK(open_ones(judged(with(by_hand, "grid: {}",
                              "grid: {}\n  grid lost: {kind: island, running: [-T1]}")))
            .empty());
}

}  // namespace
}  // namespace linewright::tests
