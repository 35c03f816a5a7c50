#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bypass_isolates_the_inverter_output;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::bypass_isolates_the_inverter_output;

TEST_CASE("bypass isolates the output: a switch across the inverter leaves its output on the bus") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-T1");
  CHECK(broken_ones(all)[0].state == "bypass");
}

TEST_CASE("bypass isolates the output: the same switch with the output opened holds") {
  std::string site(rule.example);
  site.replace(site.find("{-Q2: closed,"), 13, "{-Q2: closed, -F22: open,");
  CHECK(sound(verdicts(rule, site)));
}

std::string changeover_bypass(std::string_view words, std::string_view bypass) {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "inverters:\n"
         "  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: "
         "closes in island}\n"
         "devices:\n"
         "  -Q2: {device: changeover " +
         std::string(words) +
         " 63 A 2P by hand}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [supply, -Q0 switch-disconnector 63 A 2P]\n"
         "  +A3:\n"
         "    feed: [-Q2, -W3 3×6 mm² 5 m]\n"
         "chains:\n"
         "  - [A1, -F21 C32 2P, -T1:ac]\n"
         "  - [-T1:backup, -Q2:I]\n"
         "  - [A1, -F22 C32 2P, -Q2:II]\n"
         "states:\n"
         "  grid: {-Q2: I}\n"
         "  island: {-Q2: I, running: [-T1]}\n"
         "  bypass: {" +
         std::string(bypass) + "running: [supply]}\n";
}

TEST_CASE("bypass isolates the output: the input of the inverter may stay on the supply") {
  CHECK(sound(verdicts(rule, changeover_bypass("I-0-II", "-Q2: II, "))));
}

TEST_CASE("bypass isolates the output: a changeover of unknown position is open, not a pass") {
  const auto all = verdicts(rule, changeover_bypass("I-II", ""));
  CHECK(says(all, Outcome::open, "-T1", "bypass"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("bypass isolates the output: a battery inverter that keeps step is no fault in bypass") {
  CHECK(sound(verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: battery, grid: forming, power: 5 kVA, bond: none, synchronises at: [-Q1]}
boards:
  +A1:
    feed: [supply, -Q0 switch-disconnector 63 A 2P]
  +A3:
    feed: [-Q2, -W3 3×6 mm² 5 m]
devices:
  -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
chains:
  - [A1, -Q1 contactor 63 A 2P, -WB2]
  - [-T1:ac, -F3 C40 2P, -WB2]
  - [-WB2, -Q2:I]
  - [A1, -Q2:II]
assemblies:
  +A4: {busbars: {-WB2: 63 A}}
states:
  grid: {-Q1: closed, -Q2: I}
  island: {-Q1: open, -Q2: I, running: [-T1]}
  bypass: {-Q1: closed, -Q2: II, running: [supply]}
)")));
}

TEST_CASE("bypass isolates the output: a site without bypass is not judged") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
                        "boards:\n  +A1:\n    feed: [supply, -Q1 switch 63 A 2P]\n")));
}

}  // namespace
}  // namespace linewright::tests
