#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule all_live_conductors_isolated_from_grid;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::all_live_conductors_isolated_from_grid;

TEST_CASE("all live conductors isolated: a 3-pole changeover leaves the supply's neutral joined") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-Q1");
  CHECK(broken_ones(all)[0].state == "generator");
}

TEST_CASE("all live conductors isolated: a 4-pole changeover isolates all of them") {
  std::string site(rule.example);
  site.replace(site.find("63 A 3P"), 7, "63 A 4P");
  CHECK(sound(verdicts(rule, site)));
}

TEST_CASE("all live conductors isolated: poles not given are open, not a pass") {
  std::string site(rule.example);
  site.replace(site.find("63 A 3P"), 7, "63 A");
  const auto all = verdicts(rule, site);
  CHECK(says(all, Outcome::open, "-G2", "generator"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("all live conductors isolated: a country that keeps the neutral joined wants it so") {
  CHECK(sound(verdicts(rule, rule.example, "AU")));
  CHECK(sound(verdicts(rule, rule.example, "NZ")));
  CHECK(says(verdicts(rule, rule.example, "GB"), Outcome::broken, "-Q1"));
}

TEST_CASE("all live conductors isolated: with two bonds the bond count speaks instead") {
  std::string site(rule.example);
  site.replace(site.find("floating"), 8, "linked");
  CHECK(silent(verdicts(rule, site)));
}

// Field case 18: a hybrid that bonds its own neutral in island, an electrode beside it.
std::string hybrid(std::string_view neutral) {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S}\n"
         "earthing: {electrodes: {-R1: 40 ohm}}\n"
         "inverters:\n"
         "  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island" +
         std::string(neutral) +
         "}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [supply, -W1 3×16 mm² 2 m, -Q0 switch-disconnector 100 A 2P]\n"
         "  +A2:\n"
         "    feed: [-T1:backup, -W3 3×6 mm² 3 m]\n"
         "chains:\n"
         "  - [A1, -F1 C32 2P, -W2 3×6 mm² 3 m, -T1:ac]\n"
         "states:\n"
         "  grid: {}\n"
         "  island: {running: [-T1]}\n";
}

TEST_CASE("all live conductors isolated: an inner contact that opens L and N is enough") {
  CHECK(sound(verdicts(rule, hybrid(", neutral in island: opened"))));
}

TEST_CASE("all live conductors isolated: an inverter that does not say so is open") {
  const auto all = verdicts(rule, hybrid(""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].element == "-T1");
  CHECK(open_ones(all)[0].missing.find("neutral in island") != std::string::npos);
}

TEST_CASE("all live conductors isolated: PE of the supply stays, and is no live conductor") {
  CHECK(broken_ones(verdicts(rule, hybrid(", neutral in island: opened"))).empty());
}

}  // namespace
}  // namespace linewright::tests
