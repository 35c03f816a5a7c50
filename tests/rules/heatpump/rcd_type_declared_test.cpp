#include <algorithm>
#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule rcd_type_declared;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::rcd_type_declared, yaml);
}

std::string house(const std::string& circuits) {
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]\n"
         "    circuits:\n" +
         circuits + "states:\n  grid: {}\n";
}

std::string own(const std::string& type, const std::string& keys) {
  return "      - {id: -F1, name: Heat pump, device: C16 2P 30 mA " + type +
         ", cable: 3×2.5 mm² 12 m, use: heat pump, " + keys + "}\n";
}

std::string shared(const std::string& type, const std::string& keys) {
  return "      - group: -F10 RCD 63 A 2P 30 mA " + type +
         "\n        circuits:\n          - {id: -F1, name: Heat pump, device: C16 2P, cable: 3×2.5 "
         "mm² "
         "12 m, use: heat pump, " +
         keys +
         "}\n          - {id: -F2, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 9 m, use: "
         "sockets}\n";
}

TEST_CASE("heat pump's RCD: its own of the declared type is sound") {
  CHECK(sound(ask(house(own("type F", "drive: yes, rcd type: F")))));
}

TEST_CASE("heat pump's RCD: a shared one is not, even of the declared type") {
  const auto all = ask(house(shared("type F", "drive: yes, rcd type: F")));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message ==
        "'Heat pump' shares '-F10' with others, must have its own");
}

TEST_CASE("heat pump's RCD: 6 mA of direct current leave the sharing to this rule, more does not") {
  CHECK(broken_ones(ask(house(shared("type A", "drive: yes, rcd type: A, dc leakage: 6 mA"))))
            .size() == 1);
  const std::string more = house(shared("type A", "drive: yes, rcd type: B, dc leakage: 6.1 mA"));
  CHECK(broken_ones(ask(more)).empty());
  CHECK(rules_broken(report_on(more)) == "rcd/upstream-not-blinded");
}

TEST_CASE("heat pump's RCD: nothing said of it is open in the report, named once") {
  const std::string yaml = house(own("type A", "leakage: 3 mA, heat pump: {local isolator: yes}"));
  CHECK(silent(ask(yaml)));
  const auto report = report_on(yaml);
  const auto told = [&](std::string_view rule) {
    return std::ranges::count(report.open, rule, &OpenPoint::rule);
  };
  CHECK(told("rcd/type-for-variable-speed-drive") == 1);
  CHECK(told("heatpump/rcd-type-declared") == 0);
}

TEST_CASE("heat pump's RCD: one further up that others use too is not shared in this sense") {
  CHECK(sound(ask(with(house(own("type F", "drive: yes, rcd type: F") +
                             "      - {id: -F2, name: Sockets, device: B16 1P+N 30 mA type A, "
                             "cable: 3×2.5 mm² 9 m, use: sockets}\n"),
                       "-Q1 switch-disconnector 63 A 2P", "-F10 RCD 63 A 2P 300 mA type F S"))));
}

}  // namespace
}  // namespace linewright::tests
