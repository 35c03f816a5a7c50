#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_unsynchronised_paralleling;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::no_unsynchronised_paralleling;

TEST_CASE("no unsynchronised paralleling: the rule's example breaks it") {
  const auto all = verdicts(rule, rule.example);
  CHECK(says(all, Outcome::broken, "-G2", "grid"));
  CHECK(broken_ones(all).size() == 1);
}

constexpr const char* changeover_site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
)";

TEST_CASE("no unsynchronised paralleling: a changeover keeps two running sources apart") {
  const auto all = verdicts(
      rule, std::string(changeover_site) + "  generator: {-Q1: II, running: [supply, -G2]}\n");
  CHECK(sound(all));
}

TEST_CASE("no unsynchronised paralleling: a changeover of unknown position is open, not a pass") {
  const auto site = std::string(R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-II 63 A 2P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  test run: {running: [supply, -G2]}
)");
  const auto all = verdicts(rule, site);
  CHECK(says(all, Outcome::open, "-G2", "test run"));
  CHECK(broken_ones(all).empty());
}

constexpr const char* two_hybrids = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: none}
panel:
  id: +A2
  interior: explicit
  busbars: {-WB1: 63 A, -WB2: 63 A}
  chains:
    - [supply, -Q1 switch-disconnector 63 A 2P, -WB1]
    - [-WB1, -F21 C32 2P, -T1:ac]
    - [-WB1, -F22 C32 2P, -T2:ac]
    - [-T1:backup, -F23 C32 2P, -WB2]
    - [-T2:backup, -F24 C32 2P, -WB2]
states:
  grid: {}
  island: {-Q1: open, running: [-T1, -T2]}
)";

TEST_CASE("no unsynchronised paralleling: hybrids of one set share a bus, and follow the grid") {
  CHECK(sound(verdicts(rule, std::string(two_hybrids) + "synchronised: [[-T1, -T2]]\n")));
}

TEST_CASE("no unsynchronised paralleling: without a set the same hybrids are told once") {
  const auto all = broken_ones(verdicts(rule, two_hybrids));
  REQUIRE(all.size() == 2);  // one a state; the supply meets them only over their own contacts
  CHECK(states_with(all, Outcome::broken) == "grid island");
  CHECK(all[0].message == all[1].message);
  CHECK(all[0].message == "'-T1' and '-T2' meet on one conductor out of step");
}

constexpr const char* battery_on_the_bus = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -Q1 contactor 63 A 2P]
chains:
  - [-T1:ac, -F3 C40 2P, A1]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T1]}
inverters:
)";

TEST_CASE("no unsynchronised paralleling: a forming inverter closes its own contact in step") {
  const std::string site = battery_on_the_bus;
  CHECK(
      sound(verdicts(rule, site + "  -T1: {kind: battery, grid: forming, power: 5 kVA, bond: none, "
                                  "synchronises at: [-Q1]}\n")));
  const auto all =
      verdicts(rule, site + "  -T1: {kind: battery, grid: forming, power: 5 kVA, bond: none}\n");
  CHECK(says(all, Outcome::broken, "-T1", "grid"));
}

TEST_CASE("no unsynchronised paralleling: a contact that a hand can close is in no step") {
  for (const std::string_view operation : {"by hand", "by both"}) {
    std::string site = battery_on_the_bus;
    const auto at = site.find("contactor");
    REQUIRE(at != std::string::npos);
    const auto end = site.find(']', at);
    REQUIRE(end != std::string::npos);
    site.insert(end, " " + std::string(operation));
    const auto all = verdicts(rule, site +
                                        "  -T1: {kind: battery, grid: forming, power: 5 kVA, "
                                        "bond: none, synchronises at: [-Q1]}\n");
    INFO(site);
    CHECK(says(all, Outcome::broken, "-T1", "grid"));
    REQUIRE(!broken_ones(all).empty());
    CHECK(broken_ones(all).front().mend.find("'-Q1' as closed 'by controller' only") !=
          std::string::npos);
  }
}

TEST_CASE("no unsynchronised paralleling: an inverter of unknown kind is open") {
  const auto all = verdicts(
      rule, std::string(battery_on_the_bus) + "  -T1: {kind: battery, power: 5 kVA, bond: none}\n");
  CHECK(says(all, Outcome::open, "-T1"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("no unsynchronised paralleling: a following inverter on the grid is no clash") {
  CHECK(sound(verdicts(rule, std::string(battery_on_the_bus) +
                                 "  -T1: {kind: pv, grid: following, power: 5 kVA}\n")));
}

}  // namespace
}  // namespace linewright::tests
