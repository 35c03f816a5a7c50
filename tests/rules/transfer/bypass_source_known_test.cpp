#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bypass_source_known;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::bypass_source_known;

TEST_CASE("bypass source known: a bypass state in which nothing reaches the loads is broken") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].state == "bypass");
}

TEST_CASE("bypass source known: fed from the supply, and nothing else to feed it, holds") {
  std::string site(rule.example);
  site.replace(site.find("-Q1: open, "), 11, "");
  CHECK(sound(verdicts(rule, site)));
}

std::string two_sources(std::string_view more_states, std::string_view interlocks = "") {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 5 kVA, neutral: linked, fixed: yes}\n"
         "inverters:\n"
         "  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: "
         "closes in island}\n"
         "panel:\n"
         "  id: +A2\n"
         "  interior: explicit\n"
         "  busbars: {-WB1: 63 A}\n"
         "  devices:\n"
         "    -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}\n"
         "    -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}\n"
         "  chains:\n"
         "    - [supply, -Q1:I]\n"
         "    - [-G2, -Q1:II]\n"
         "    - [-Q1, -WB1]\n"
         "    - [-WB1, -F21 C32 2P, -T1:ac]\n"
         "    - [-T1:backup, -Q2:I]\n"
         "    - [-WB1, -Q2:II]\n"
         "boards:\n"
         "  +A3:\n"
         "    feed: [-Q2, -W3 3×6 mm² 5 m]\n"
         "    circuits: [{id: -F31, device: B16 2P, cable: 3×2.5 mm² 9 m, load: 1 kW}]\n"
         "states:\n"
         "  grid: {-Q1: I, -Q2: I}\n"
         "  island: {-Q1: 0, -Q2: I, running: [-T1]}\n"
         "  generator: {-Q1: II, -Q2: I}\n"
         "  bypass: {-Q1: I, -Q2: II, running: [supply]}\n" +
         std::string(more_states) + std::string(interlocks);
}

TEST_CASE("bypass source known: a generator that can feed the bypass in no state is open") {
  const auto all = verdicts(rule, two_sources(""));
  CHECK(says(all, Outcome::open, "-G2"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("bypass source known: a state for each of the two sources holds") {
  CHECK(sound(verdicts(
      rule,
      two_sources("  bypass on generator: {-Q1: II, -Q2: II, kind: bypass, running: [-G2]}\n"))));
}

TEST_CASE(
    "bypass source known: a generator that an interlock keeps off the bypass needs no state") {
  CHECK(sound(verdicts(
      rule, two_sources("", "interlocks:\n  - {never together: [-Q1: II, -Q2: II], by: key}\n"))));
}

TEST_CASE("bypass source known: a site without bypass is not judged") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
                        "boards:\n  +A1:\n    feed: [supply, -Q1 switch 63 A 2P]\n")));
}

}  // namespace
}  // namespace linewright::tests
