#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_local_bond_on_tt_while_on_grid;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::no_local_bond_on_tt_while_on_grid, yaml, profile);
}

constexpr std::string_view hybrid = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
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

TEST_CASE("no local bond on TT: a link that closes in island only is sound") {
  const auto all = judged(hybrid);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "grid");
}

TEST_CASE("no local bond on TT: a fixed link at the main board is found") {
  const auto all = judged(rules::no_local_bond_on_tt_while_on_grid.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
  CHECK(broken_ones(all).front().message ==
        "'-X5' joins the TT supply's neutral to the house earth");
}

TEST_CASE("no local bond on TT: an inverter's link that never opens is found on the grid alone") {
  const auto all = judged(with(hybrid, "bond: closes in island", "bond: always closed"));
  CHECK(states_with(all, Outcome::broken) == "grid");
}

TEST_CASE("no local bond on TT: an undeclared link is open") {
  const auto all = judged(with(hybrid, ", bond: closes in island, bond rest: open", ""));
  CHECK(says(all, Outcome::open, "-T1", "grid"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("no local bond on TT: the supplier's own bond in the street is not a local one") {
  CHECK(sound(judged(with(hybrid, "bond: closes in island", "bond: none"))));
}

TEST_CASE("no local bond on TT: silent on a TN supply") {
  CHECK(silent(judged(with(rules::no_local_bond_on_tt_while_on_grid.example, "TT", "TN-S"))));
}

}  // namespace
}  // namespace linewright::tests
