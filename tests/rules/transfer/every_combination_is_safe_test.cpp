// The five kinds of site, and what is left to other rules.
#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

#include "rules/registry.hpp"
#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule every_combination_is_safe;
}

namespace linewright::tests {
namespace {

std::string broken_site() {
  return std::string(rules::every_combination_is_safe.example);
}

}  // namespace

TEST_CASE("every combination: a tie around the RCD of a board is found with its one move") {
  const auto all = verdicts(rules::every_combination_is_safe, broken_site());
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-Q7");
  CHECK(broken_ones(all).front().message.find("'grid', then close -Q7") != std::string::npos);
}

TEST_CASE("every combination: an RCD in the circuit itself makes the same tie harmless") {
  const auto all =
      verdicts(rules::every_combination_is_safe,
               with(broken_site(), "device: B16 2P 6 kA", "device: B16 2P 30 mA type A 6 kA"));
  CHECK(broken_ones(all).empty());
  CHECK(open_ones(all).empty());
}

TEST_CASE("every combination: a lever between the tie and the feed leaves one way only") {
  // Both closed is what hides the RCD; with the tie alone the fault still finds none.
  const std::string lever =
      broken_site() + "interlocks:\n  - {never together: [-Q7, -F10], by: mechanical}\n";
  CHECK(broken_ones(verdicts(rules::every_combination_is_safe, lever)).size() == 1);
  const std::string main_off =
      broken_site() + "interlocks:\n  - {never together: [-Q7, -Q1], by: mechanical}\n";
  CHECK(broken_ones(verdicts(rules::every_combination_is_safe, main_off)).empty());
}

TEST_CASE("every combination: 30 mA is enough, 100 mA on the other way is not") {
  const std::string tie = "-Q7 switch-disconnector 63 A 2P normally open";
  const auto beside = [&](const char* limit) {
    return verdicts(rules::every_combination_is_safe,
                    with(broken_site(), tie,
                         std::string("-F7 RCD 63 A 2P ") + limit + " type A normally open"));
  };
  // Either RCD sees only a part of the current while both are closed: neither is on every way.
  CHECK(broken_ones(beside("100 mA")).size() == 1);
  const std::string apart = "interlocks:\n  - {never together: [-F7, -F10], by: mechanical}\n";
  const auto one_way = [&](const char* limit) {
    return verdicts(rules::every_combination_is_safe,
                    with(broken_site(), tie,
                         std::string("-F7 RCD 63 A 2P ") + limit + " type A normally open") +
                        apart);
  };
  CHECK(broken_ones(one_way("30 mA")).empty());
  CHECK(broken_ones(one_way("100 mA")).size() == 1);
}

TEST_CASE("every combination: without the declaration of the maker parallel inverters are open") {
  const std::string house = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
types:
  unit: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: none}
inverters:
  -T1: {use: unit, bond: closes in island, bond rest: open}
  -T2: {use: unit}
synchronised: [[-T1, -T2]]
panel:
  id: +A2
  interior: one source with bypass
  grid: [A1, -F10 C40 2P 6 kA, -W2 3×10 mm² 5 m]
  inverters:
    -T1: {in: [-F21 C40 2P 6 kA, -W11 3×6 mm² 2 m], out: [-W12 3×6 mm² 2 m]}
    -T2: {in: [-F22 C40 2P 6 kA, -W13 3×6 mm² 2 m], out: [-W14 3×6 mm² 2 m]}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
)";
  // -F21 open: -T1 takes itself for an island and joins, while -T2 still leads the grid through.
  CHECK(open_ones(verdicts(rules::every_combination_is_safe, house)).size() == 1);
  const auto together =
      verdicts(rules::every_combination_is_safe,
               with(house, "[[-T1, -T2]]", "[{sources: [-T1, -T2], transfer together: yes}]"));
  CHECK(open_ones(together).empty());
  // -T2 alone has no joint at all: that is left, whatever the maker declares.
  CHECK(broken_ones(together).size() == 1);
  const auto apart =
      verdicts(rules::every_combination_is_safe,
               with(house, "[[-T1, -T2]]", "[{sources: [-T1, -T2], transfer together: no}]"));
  CHECK(broken_ones(apart).size() == 2);
}

TEST_CASE("every combination: a breaker that parts the board from its source is no hazard") {
  // A naive check would take an open 2P breaker ahead of the joint for a lost joint.
  const auto all = verdicts(rules::every_combination_is_safe, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P isolating lockable]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
)");
  CHECK(broken_ones(all).empty());
  CHECK(open_ones(all).empty());
}

TEST_CASE("every combination: a dead supply that two moves of a hand feed is not passed over") {
  // The inverter runs in one set with the supply, so nothing out of step is joined; after one move
  // the supply is still cut off, and no rule on named states looks at two.
  const auto all = verdicts(rules::every_combination_is_safe, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: battery, grid: forming, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1:
    feed: [supply, -Q1 switch-disconnector 63 A 2P, -W1 3×16 mm² 3 m, -Q3 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [-T1:ac, -W11 3×6 mm² 2 m, -Q2 switch-disconnector 63 A 2P normally open, A1]
states:
  grid: {running: [supply]}
  island: {-Q1: open, -Q3: open, -Q2: closed, running: [-T1]}
synchronised: [{sources: [supply, -T1]}]
)");
  const auto broken = broken_ones(all);
  CHECK(std::ranges::any_of(broken, [](const Verdict& verdict) {
    return verdict.message.find("the dead supply is fed (-T1)") != std::string::npos;
  }));
}

TEST_CASE("every combination: a circuit that no named state feeds is open, not impossible") {
  const auto all = verdicts(rules::every_combination_is_safe, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A5:
    feed: [A1, -Q5 switch-disconnector 63 A 2P normally open, -W5 3×6 mm² 5 m]
    circuits:
      - {id: -F51, name: Shed sockets, device: B16 2P 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)");
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().message ==
        "which RCD sees a fault of 'Shed sockets', which no named state feeds");
}

TEST_CASE("every combination: a set unearthed for one item may not feed the rest unasked") {
  const auto all = verdicts(rules::every_combination_is_safe, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: floating, fixed: yes, own rcd: no, winding: line-neutral}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [-Q3, -W3 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
      - {id: -F2, name: Shaver, device: B6 2P, cable: 3×2.5 mm² 9 m, use: separated, items: 1}
devices:
  -Q3: changeover I-0-II 63 A 2P by hand
chains:
  - [A1, -W2 3×10 mm² 3 m, -Q3:I]
  - [-G2, -W9 3×6 mm² 9 m, -Q3:II]
states:
  grid: {-Q3: I}
  one shaver: {-Q3: II, -F1: open, running: [-G2]}
)");
  const auto open = open_ones(all);
  CHECK(std::ranges::any_of(open, [](const Verdict& verdict) {
    return verdict.element == "-G2" &&
           verdict.message.find("a live neutral without a joint to earth") != std::string::npos;
  }));
}

TEST_CASE("every combination: a state against the contact that proves a link is told") {
  // 'closed in' has -X5 closed on the generator; -Q3 at II, which proves it, leaves it open.
  const auto all = verdicts(rules::every_combination_is_safe, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  links:
    -X5: {at: A3, contact: yes, rest: open, proved by: [-Q3], closed in: [generator]}
generators:
  -G2: {power: 5 kVA, neutral: floating, fixed: yes, own rcd: no, winding: line-neutral}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [-Q3, -W3 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
devices:
  -Q3: changeover I-0-II 63 A 2P by hand
chains:
  - [A1, -W2 3×10 mm² 3 m, -Q3:I]
  - [-G2, -W9 3×6 mm² 9 m, -Q3:II]
states:
  grid: {-Q3: I}
  generator: {-Q3: II, running: [-G2]}
)");
  CHECK(std::ranges::any_of(broken_ones(all), [](const Verdict& verdict) {
    return verdict.message == "'generator': no neutral-earth joint (-G2)";
  }));
}

}  // namespace linewright::tests
