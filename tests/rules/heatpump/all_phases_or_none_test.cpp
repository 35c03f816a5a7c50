#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule all_phases_or_none;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::all_phases_or_none, yaml);
}

std::string house(const std::string& pump, const std::string& device = "C16 4P",
                  const std::string& cable = "5×2.5 mm² 12 m") {
  return "site: {name: House}\nsupply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]\n"
         "    circuits:\n      - {id: -F1, name: Heat pump, device: " +
         device + " 30 mA type B, cable: " + cable + ", use: heat pump, heat pump: {" + pump +
         "}}\nstates:\n  grid: {}\n";
}

TEST_CASE("all phases: a three-phase unit with a phase monitor on three phases is sound") {
  CHECK(sound(ask(house("phase monitor: yes"))));
}

TEST_CASE("all phases: without a phase monitor it is broken, unknown it is open") {
  const auto all = ask(house("phase monitor: no"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1"));
  CHECK(open_ones(ask(house("heater: none"))).size() == 1);
}

std::string backed(const std::string& inverter) {
  return R"(site: {name: House}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]}
  +A2:
    feed: [-Q2, -W2 5×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 4P 30 mA type B, cable: 5×2.5 mm² 12 m, use: heat pump, heat pump: {phase monitor: yes}}
generators:
  -G1: {neutral: linked, winding: line-neutral, fixed: yes, earth: 6 mm², )" +
         inverter + R"(}
devices:
  -Q2: changeover I-0-II 63 A 4P
chains:
  - [A1, -W3 5×6 mm² 5 m, -Q2:I]
  - [-G1, )" +
         (inverter.find("phase: L1") == std::string::npos ? "-W4 5×6 mm² 5 m" : "-W4 3×6 mm² 5 m") +
         R"(, -Q2:II]
states:
  grid: {-Q2: I}
  generator: {-Q2: II, running: [-G1]}
)";
}

TEST_CASE("all phases: a single-phase source that feeds one of its lines is broken") {
  const auto all = ask(backed("power: 6 kVA, phase: L1"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "generator"));
  CHECK(broken_ones(all).front().message == "three-phase 'Heat pump' gets 1 of its 3 lines");
}

TEST_CASE("all phases: a three-phase set is sound") {
  CHECK(sound(ask(backed("power: 15 kVA, phases: 3"))));
}

TEST_CASE("all phases: a single-phase unit on a three-phase site is not asked") {
  CHECK(silent(ask(house("heater: none", "C16 2P", "3×2.5 mm² 12 m"))));
}

}  // namespace
}  // namespace linewright::tests
