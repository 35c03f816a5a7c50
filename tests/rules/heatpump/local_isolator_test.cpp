#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule local_isolator;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::local_isolator, yaml);
}

std::string house(const std::string& keys) {
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]\n"
         "    circuits:\n      - {id: -F1, name: Heat pump, device: C16 2P 30 mA type B, cable: "
         "3×2.5 mm² 12 m, " +
         keys + "}\nstates:\n  grid: {}\n";
}

TEST_CASE("local isolator: there it holds, and its sight is a question for the site") {
  const auto all = ask(house("use: heat pump, heat pump: {local isolator: yes}"));
  CHECK(sound(all));
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all).front().message == "whether the isolator of 'Heat pump' is in its sight");
}

TEST_CASE("local isolator: none is broken") {
  const auto all = ask(house("use: heat pump, heat pump: {local isolator: no}"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1"));
  CHECK(broken_ones(all).front().message == "'Heat pump' has no isolator beside it");
}

TEST_CASE("local isolator: nothing said is open, with or without the map") {
  CHECK(open_ones(ask(house("use: heat pump"))).size() == 1);
  CHECK(open_ones(ask(house("use: heat pump, heat pump: {heater: none}"))).size() == 1);
}

TEST_CASE("local isolator: a heat pump that no state feeds is asked all the same") {
  const auto all = ask(with(house("use: heat pump"), "grid: {}", "off: {-Q1: open}"));
  CHECK(open_ones(all).size() == 1);
}

TEST_CASE("local isolator: other fixed equipment is not asked") {
  CHECK(silent(ask(house("use: motor, drive: yes"))));
}

}  // namespace
}  // namespace linewright::tests
