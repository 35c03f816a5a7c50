#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule type_for_variable_speed_drive;
}

namespace linewright::tests {
namespace {

std::string pump(const std::string& rcd, const std::string& keys, bool three_phase = false) {
  const std::string poles = three_phase ? "4P" : "2P";
  return "site: {name: House}\nsupply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}\n"
         "boards:\n  +A1:\n    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]\n"
         "    circuits:\n      - {id: -F1, name: Pump, device: C16 " +
         poles + " 30 mA " + rcd + ", cable: " + (three_phase ? "5" : "3") + "×2.5 mm² 12 m, " +
         keys + "}\nstates:\n  grid: {}\n";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::type_for_variable_speed_drive, yaml);
}

TEST_CASE("type for a drive: the maker's type holds, a lesser one does not") {
  CHECK(sound(ask(pump("type F", "use: motor, drive: yes, rcd type: F"))));
  const auto all = ask(pump("type A", "use: motor, drive: yes, rcd type: F"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK(broken_ones(all).front().message == "'-F1' is type A, must be F for 'Pump'");
  CHECK(sound(ask(pump("type A", "use: motor, drive: yes, rcd type: A"))));
}

TEST_CASE("type for a drive: three phases without the maker's word need type B") {
  CHECK(sound(ask(pump("type B", "use: motor, drive: yes", true))));
  CHECK(broken_ones(ask(pump("type F", "use: motor, drive: yes", true))).size() == 1);
}

TEST_CASE("type for a drive: one phase without the maker's word is open, not a pass") {
  const auto all = ask(pump("type F", "use: motor, drive: yes"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "what the maker of 'Pump' asks for (rcd type)");
  CHECK(sound(ask(pump("type B", "use: motor, drive: yes"))));
}

TEST_CASE("type for a drive: a motor or heat pump that does not say whether it is one is open") {
  CHECK(open_ones(ask(pump("type A", "use: motor"))).size() == 1);
  CHECK(open_ones(ask(pump("type A", "use: heat pump"))).size() == 1);
}

TEST_CASE("type for a drive: a motor straight on the mains is not asked") {
  CHECK(silent(ask(pump("type A", "use: motor, drive: no"))));
  CHECK(silent(ask(pump("type A", "use: sockets"))));
}

TEST_CASE("type for a drive: what the maker asks for counts for other equipment as well") {
  CHECK(broken_ones(ask(pump("type A", "use: fixed, rcd type: F"))).size() == 1);
  CHECK(broken_ones(ask(pump("type A", "use: heat pump, drive: no, rcd type: F"))).size() == 1);
}

TEST_CASE("type for a drive: a type A under the maker's type B has one finding, elsewhere") {
  const std::string yaml = pump("type A", "use: motor, drive: yes, rcd type: B");
  CHECK(silent(ask(yaml)));
  CHECK(rules_broken(report_on(yaml)) == "rcd/upstream-not-blinded");
}

}  // namespace
}  // namespace linewright::tests
