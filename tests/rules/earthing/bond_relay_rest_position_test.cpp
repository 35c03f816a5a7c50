#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_relay_rest_position;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_relay_rest_position, yaml, profile);
}

constexpr std::string_view bypassed = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
devices:
  -Q5: switch-disconnector 40 A 2P normally open by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -Q5, -W4 3×6 mm² 3 m, A3]
states:
  grid: {}
  island: {running: [-T1]}
  bypass: {-Q5: closed, running: [supply]}
)";

TEST_CASE("rest position: a contact that rests open does no harm in bypass") {
  CHECK(sound(judged(bypassed)));
}

TEST_CASE("rest position: a contact that closes for want of power is a second joint in bypass") {
  const auto all = judged(with(bypassed, "bond rest: open", "bond rest: closed"));
  CHECK(states_with(all, Outcome::broken) == "bypass");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().message ==
        "'-T1' without power joins neutral to earth a second time");
}

TEST_CASE("rest position: the rules that count joints leave such a contact to this one") {
  const auto all = judged(rules::bond_relay_rest_position.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
  CHECK(rules_broken(report_on(rules::bond_relay_rest_position.example)) ==
        "earthing/bond-relay-rest-position");
}

TEST_CASE("rest position: cut off from the bypass, a contact that rests closed does no harm") {
  const auto site = with(with(bypassed, "bond rest: open", "bond rest: closed"), "-T1:backup, -W3",
                         "-T1:backup, -Q6 switch-disconnector 40 A 2P, -W3");
  CHECK(says(judged(site), Outcome::broken, "-T1", "bypass"));
  CHECK(sound(judged(with(site, "bypass: {-Q5: closed", "bypass: {-Q6: open, -Q5: closed"))));
}

TEST_CASE("rest position: one that the file does not give is open in bypass") {
  const auto all = judged(with(bypassed, ", bond rest: open", ""));
  CHECK(broken_ones(all).empty());
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().state == "bypass");
  CHECK(open_ones(all).front().missing == "'bond rest' of '-T1'");
}

constexpr std::string_view pair = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: -WB2, contact: yes, rest: closed, closed in: [island], proved by: [-T1, -T2]}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
  -T2: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
synchronised: [[-T1, -T2]]
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-WB2]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
assemblies:
  +A2: {busbars: {-WB2: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -W4 3×6 mm² 3 m, -T2:ac]
  - [-T1:backup, -W5 3×6 mm² 3 m, -WB2]
  - [-T2:backup, -W6 3×6 mm² 3 m, -WB2]
states:
  grid: {}
  island: {running: [-T1, -T2]}
)";

TEST_CASE("rest position: a link that hangs on both grid contacts has no controller to lose") {
  CHECK(silent(judged(pair)));
}

TEST_CASE(
    "rest position: driven by one inverter, a closed rest is a second joint beside the other") {
  // On the grid with -T1 off, -T2 still leads the supply's neutral to the bar.
  const auto all = judged(with(pair, "proved by:", "driven by: -T1, proved by:"));
  CHECK(says(all, Outcome::broken, "-X5", "grid"));
}

TEST_CASE("rest position: driven by one inverter, an open rest leaves the other without a joint") {
  const auto all = judged(
      with(with(pair, "proved by:", "driven by: -T1, proved by:"), "rest: closed", "rest: open"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().state == "island");
  CHECK(broken_ones(all).front().message ==
        "with '-T1' off, '-T2' feeds on without a joint of neutral and earth");
}

TEST_CASE("rest position: a joint inside one of two inverters goes with it") {
  const auto inside =
      with(with(pair,
                "\n  links:\n    -X5: {at: -WB2, contact: yes, rest: closed, closed in: "
                "[island], proved by: [-T1, -T2]}",
                ""),
           "bond: none", "bond: closes in island, bond rest: open");
  const auto all = judged(inside);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().state == "island");
}

TEST_CASE("rest position: coils that the controller drives drop with it") {
  // With -T1 off, -Q2 parts the bar from the grid, so that the link may close there by itself.
  const std::string_view site = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: -WB2, contact: yes, rest: closed, closed in: [island], proved by: [-Q2], driven by: -T1}
inverters:
  -T1: {kind: battery, grid: forming, bond: none, synchronises at: [-Q2]}
  -T2: {kind: battery, grid: forming, bond: none, synchronises at: [-Q2]}
synchronised: [[-T1, -T2]]
devices:
  -Q2: {device: contactor 63 A 2P, operated: controller, without power: open, mirror contact: yes, driven by: -T1}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-WB2]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
assemblies:
  +A2: {busbars: {-WB2: 63 A}}
chains:
  - [A1, -Q2, -WB2]
  - [-T1:ac, -W5 3×6 mm² 3 m, -WB2]
  - [-T2:ac, -W6 3×6 mm² 3 m, -WB2]
states:
  grid: {-Q2: closed, running: [supply, -T1, -T2]}
  island: {-Q2: open, running: [-T1, -T2]}
)";
  CHECK(sound(judged(site)));
  CHECK(says(judged(with(site, "without power: open", "without power: closed")), Outcome::broken,
             "-X5", "grid"));
}

}  // namespace
}  // namespace linewright::tests
