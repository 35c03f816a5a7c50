#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_second_bond_while_on_grid;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::no_second_bond_while_on_grid, yaml, profile);
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

TEST_CASE("no second bond: an inverter's link that closes in island only is none on the grid") {
  const auto all = judged(hybrid);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "grid");
}

TEST_CASE("no second bond: an inverter's link that never opens is found on the grid alone") {
  const auto all = judged(rules::no_second_bond_while_on_grid.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().state == "grid");
}

TEST_CASE("no second bond: a link with a contact is found in the states that close it") {
  const auto site = with(hybrid, "{-XE1: 20 ohm}}",
                         "{-XE1: 20 ohm}, links: {-X5: {at: A1, contact: yes, rest: open, "
                         "closed in: [grid]}}}");
  CHECK(says(judged(site), Outcome::broken, "-X5", "grid"));
  CHECK(broken_ones(judged(with(site, "closed in: [grid]", "closed in: []"))).empty());
}

TEST_CASE("no second bond: a fixed link on a TN-S supply is found") {
  const auto all =
      judged(with(hybrid, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X5: {at: -WB1}}}"));
  CHECK(says(all, Outcome::broken, "-X5", "grid"));
}

TEST_CASE("no second bond: an inverter whose link is not declared is open on the grid") {
  const auto all = judged(with(hybrid, ", bond: closes in island, bond rest: open", ""));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-T1", "grid"));
}

TEST_CASE(
    "no second bond: a contact that an inverter leaves closed for want of power is another "
    "rule's") {
  const auto off = with(hybrid, "grid: {}", "grid: {running: [supply], -T1:transfer: closed}");
  CHECK(sound(judged(off)));
  const auto closed = with(off, "bond rest: open", "bond rest: closed");
  CHECK(silent(judged(closed)));
  CHECK(rules_broken(report_on(closed)).find("earthing/bond-relay-rest-position") !=
        std::string::npos);
}

TEST_CASE("no second bond: the MEN link at the main board is the supply's own, not a second one") {
  CHECK(sound(judged(with(hybrid, "earthing: TN-S", "earthing: TN-C-S, pen split: A1"), "AU")));
}

TEST_CASE("no second bond: a generator cut off by four poles may keep its link") {
  CHECK(sound(judged(changeover)));
}

TEST_CASE("no second bond: on TT it leaves the word to the rule for TT") {
  CHECK(silent(judged(with(rules::no_second_bond_while_on_grid.example, "TN-S", "TT"))));
}

}  // namespace
}  // namespace linewright::tests
