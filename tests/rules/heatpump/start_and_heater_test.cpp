#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule start_and_heater;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::start_and_heater, yaml);
}

std::string house(const std::string& keys, const std::string& pump,
                  const std::string& others = "") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 1P+N 30 mA type B, cable: 3×2.5 mm² 12 m, use: heat pump, )" +
         keys + ", heat pump: {" + pump + "}}\n" + others +
         R"(inverters:
  -T1: {kind: battery, backup side: yes, power: 5 kVA, surge: 10 kVA for 5 s, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C32 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

const std::string drive = "drive: yes, load: 2 kW";

TEST_CASE("heater: blocked in island, or none, is sound") {
  CHECK(sound(ask(house(drive, "heater: 6 kW, heater in island: blocked"))));
  CHECK(sound(ask(house(drive, "heater: none"))));
}

TEST_CASE("heater: 3 kW on top of 2 kW fit 5 kVA, 3.1 kW do not") {
  CHECK(sound(ask(house(drive, "heater: 3 kW, heater in island: runs"))));
  const auto all = ask(house(drive, "heater: 3.1 kW, heater in island: runs"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "island"));
  CHECK(broken_ones(all).front().message ==
        "with the heater of 'Heat pump' 5.1 kW are drawn, 5 kW are there");
}

TEST_CASE("heater: other circuits alive in island count, those dropped there do not") {
  const std::string oven =
      "      - {id: -F3, name: Oven, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: "
      "cooking, load: 2 kW}\n";
  const std::string runs = "heater: 2 kW, heater in island: runs";
  CHECK(broken_ones(ask(house(drive, runs, oven))).size() == 1);
  CHECK(
      sound(ask(house(drive, runs, with(oven, "load: 2 kW", "load: 2 kW, shed in island: yes")))));
}

TEST_CASE("heater: one that is not stated is open, not a pass") {
  CHECK(open_ones(ask(house(drive, "local isolator: yes"))).size() == 1);
  CHECK(open_ones(ask(house(drive, "heater: 6 kW"))).size() == 1);
  const std::string unknown =
      "      - {id: -F3, name: Oven, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: "
      "cooking}\n";
  CHECK(open_ones(ask(house(drive, "heater: 1 kW, heater in island: runs", unknown))).size() == 1);
}

TEST_CASE("start: 5 times 2 kW fit a surge of 10 kVA, 5.1 times do not") {
  CHECK(sound(ask(house("drive: no, load: 2 kW, start factor: 5", "heater: none"))));
  const auto all = ask(house("drive: no, load: 2 kW, start factor: 5.1", "heater: none"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Heat pump' draws 10.2 kW at its start, 10 kW are there");
  CHECK(open_ones(ask(house("drive: no, load: 2 kW", "heater: none"))).size() == 1);
}

TEST_CASE("heater: a heat pump that only the grid feeds is not asked") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, device: C16 2P 30 mA type B, cable: 3×2.5 mm² 12 m, use: heat pump}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
