#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_backfeed_to_dead_grid;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::no_backfeed_to_dead_grid;

TEST_CASE("no backfeed: a generator on a busbar whose main switch is closed feeds the street") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-G2");
  CHECK(broken_ones(all)[0].state == "generator");
}

TEST_CASE("no backfeed: with the main switch open in that state it holds") {
  std::string site(rule.example);
  site.replace(site.find("{-Q2: closed}"), 13, "{-Q1: open, -Q2: closed}");
  CHECK(sound(verdicts(rule, site)));
}

TEST_CASE("no backfeed: a hybrid keeps its own contact open, though its main switch is closed") {
  const auto all = verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
boards:
  +A1:
    feed: [supply, -Q1 switch-disconnector 63 A 2P]
  +A2:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
chains:
  - [A1, -F1 C32 2P, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)");
  CHECK(sound(all));
}

TEST_CASE("no backfeed: a position the file does not give is open, not a pass") {
  const auto all = verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
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
  works: {running: [-G2]}
)");
  CHECK(says(all, Outcome::open, "-G2", "works"));
  CHECK(broken_ones(all).empty());
}

std::string battery_in_step(std::string_view contact, std::string_view island) {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "inverters:\n"
         "  -T1: {kind: battery, grid: forming, power: 5 kVA, bond: none, synchronises at: [-Q1]}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [supply, -Q1 " +
         std::string(contact) +
         "]\n"
         "chains:\n"
         "  - [-T1:ac, -F3 C40 2P, A1]\n"
         "states:\n"
         "  grid: {-Q1: closed}\n"
         "  island: {-Q1: " +
         std::string(island) + ", running: [-T1]}\n";
}

TEST_CASE("no backfeed: a contact that a controller keeps in step is no move of a hand") {
  CHECK(sound(verdicts(rule, battery_in_step("contactor 63 A 2P by controller", "open"))));
}

TEST_CASE("no backfeed: left closed in island it feeds the street without any move") {
  const auto all = verdicts(rule, battery_in_step("contactor 63 A 2P by controller", "closed"));
  CHECK(says(all, Outcome::broken, "-T1", "island"));
  CHECK(broken_ones(all).size() == 1);
}

TEST_CASE("backfeed: two sources feed, one feeds") {
  constexpr std::string_view two = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G1: {neutral: floating, fixed: yes}
  -G2: {neutral: floating, fixed: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
chains:
  - [-G1, -W2 3×6 mm² 3 m, A1]
  - [-G2, -W3 3×6 mm² 3 m, A1]
states:
  generator: {running: [-G1, -G2]}
)";
  const auto broken = broken_ones(verdicts(rules::no_backfeed_to_dead_grid, two));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().message == "'-G1' and '-G2' feed the dead supply, must be cut off");
}

TEST_CASE("no backfeed: what lies behind a transformer is not known") {
  const std::string site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
boards:
  +A1: {feed: [supply, -Q1 switch-disconnector 63 A 2P]}
chains:
  - [-G2, -F9 C20 2P, -T9 transformer 10 kVA 2P, -W9 3×6 mm² 4 m, A1]
states:
  grid: {}
)";
  const auto all = verdicts(rule, site);
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].element == "-T9");
  CHECK_FALSE(sound(all));
}

}  // namespace
}  // namespace linewright::tests
