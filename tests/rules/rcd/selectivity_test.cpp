#include <algorithm>
#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule selectivity;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& upper, const std::string& lower) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P )" +
         upper + R"( type A]
    circuits:
      - {id: -F1, name: Sockets, device: RCBO B16 1P+N )" +
         lower + R"( type A, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::selectivity, yaml);
}

TEST_CASE("selectivity: 100 mA type S above 30 mA is sound") {
  CHECK(sound(ask(house("100 mA S", "30 mA"))));
}

TEST_CASE("selectivity: without delay the upper RCD trips with the lower one: advice") {
  const auto all = ask(house("100 mA", "30 mA"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message ==
        "'-F10' does not wait for '-F1' below it, must be type S");
  CHECK(broken_ones(all).front().severity == Severity::advice);
}

TEST_CASE("selectivity: three times the lower one holds, less does not") {
  CHECK(sound(ask(house("300 mA S", "100 mA"))));
  const auto all = ask(house("300 mA S", "300 mA"));
  REQUIRE(broken_ones(all).size() == 1);
  // 3 × 300 mA = 900 mA
  CHECK(broken_ones(all).front().message == "'-F10' trips at 300 mA, must be at least 900 mA");
  CHECK(broken_ones(ask(house("89 mA S", "30 mA"))).size() == 1);
  CHECK(sound(ask(house("90 mA S", "30 mA"))));
}

TEST_CASE("selectivity: a rated residual current that is missing is open, not a pass") {
  const auto all = ask(house("S", "30 mA"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "residual operating current of '-F10' (device: … 30 mA)");
}

TEST_CASE("selectivity: two RCDs side by side are not in series") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
      - {id: -F2, name: Lights, device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 20 m, use: lighting}
states:
  grid: {}
)")));
}

TEST_CASE("selectivity: ahead of an inverter that takes over it is a breach, not advice") {
  const auto broken = broken_ones(verdicts(rules::selectivity, rules::selectivity.example));
  REQUIRE(broken.size() == 1);
  CHECK_FALSE(broken.front().severity);
}

TEST_CASE("selectivity: one that starts the backup in one state is one finding for all states") {
  const auto report = report_on(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 100 mA type A two-way]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {kind: battery, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C20 2P, -W2 3×4 mm² 5 m, -T1:ac]
states:
  grid: {}
  inverter away: {kind: grid, running: [supply]}
)");
  const auto of_rule = [](const Finding& it) { return it.rule == "rcd/selectivity"; };
  REQUIRE(std::ranges::count_if(report.findings, of_rule) == 1);
  const Finding& only = *std::ranges::find_if(report.findings, of_rule);
  CHECK(only.severity == Severity::breach);
  CHECK(only.state == "grid, inverter away");
}

}  // namespace
}  // namespace linewright::tests
