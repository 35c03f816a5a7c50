#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule high_protective_conductor_current;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::high_protective_conductor_current, yaml);
}

std::string house(const std::string& keys, const std::string& cable = "3×2.5 mm² 12 m") {
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]\n"
         "    circuits:\n      - {id: -F1, name: Pump, device: C16 2P 300 mA type B, cable: " +
         cable + ", " + keys + "}\nstates:\n  grid: {}\n";
}

TEST_CASE("high earth current: 10 mA hold on a thin earth, 10.1 mA do not") {
  CHECK(sound(ask(house("use: heat pump, leakage: 10 mA"))));
  const auto all = ask(house("use: heat pump, leakage: 10.1 mA"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1"));
  CHECK(broken_ones(all).front().message ==
        "'Pump' leaks 10.1 mA over one earth of less than 10 mm²");
}

TEST_CASE("high earth current: 10 mm² of copper or a second earth is enough") {
  CHECK(sound(ask(house("use: heat pump, leakage: 20 mA", "3×10 mm² 12 m"))));
  CHECK(broken_ones(ask(house("use: heat pump, leakage: 20 mA", "3×6 mm² 12 m"))).size() == 1);
  CHECK(broken_ones(ask(house("use: heat pump, leakage: 20 mA", "3×16 mm² Al 12 m"))).size() == 1);
  CHECK(sound(ask(house("use: heat pump, leakage: 20 mA, second earth: yes"))));
}

TEST_CASE("high earth current: a separate protective conductor counts by its own size") {
  CHECK(broken_ones(ask(house("use: fixed, leakage: 20 mA", "2×16 mm² + 6 mm² PE 12 m"))).size() ==
        1);
  CHECK(sound(ask(house("use: fixed, leakage: 20 mA", "2×6 mm² + 10 mm² PE 12 m"))));
}

TEST_CASE("high earth current: a heat pump or drive that does not state it is open") {
  CHECK(open_ones(ask(house("use: heat pump"))).size() == 1);
  CHECK(open_ones(ask(house("use: motor, drive: yes"))).size() == 1);
  CHECK(sound(ask(house("use: heat pump", "3×10 mm² 12 m"))));
}

TEST_CASE("high earth current: sockets and motors on the mains are not asked") {
  CHECK(silent(ask(house("use: sockets"))));
  CHECK(silent(ask(house("use: motor, drive: no"))));
}

}  // namespace
}  // namespace linewright::tests
