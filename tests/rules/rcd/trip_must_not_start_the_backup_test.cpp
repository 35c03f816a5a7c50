#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule trip_must_not_start_the_backup;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::trip_must_not_start_the_backup, yaml);
}

std::string house(const std::string& incomer, const std::string& circuit,
                  const std::string& feeder = "C63 2P") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, )" +
         incomer + R"(]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Boiler, device: )" +
         circuit + R"(, cable: 3×1.5 mm² 12 m, use: fixed}
inverters:
  -T1: {kind: battery, backup side: yes, power: 15 kVA, fault current: 130 A, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 )" +
         feeder + R"( two-way, -W3 3×16 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

TEST_CASE("trip that starts the backup: an RCD behind the transfer clears the fault by itself") {
  CHECK(sound(ask(house("-F10 RCD 63 A 2P 300 mA type A S two-way", "B10 1P+N 30 mA type A"))));
}

TEST_CASE("trip that starts the backup: without one behind the transfer it is a danger") {
  const auto all = ask(house("-F10 RCD 63 A 2P 300 mA type A S two-way", "B10 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message ==
        "a fault of 'Boiler' trips '-F10' and starts '-T1' into it");
  CHECK_FALSE(broken_ones(all).front().severity);
}

TEST_CASE("trip that starts the backup: a circuit that is not backed up does not count") {
  std::string yaml = house("-F10 RCD 63 A 2P 300 mA type A S two-way", "B10 1P+N 30 mA type A");
  yaml = with(yaml, "-F10 RCD 63 A 2P 300 mA type A S two-way]}",
              "-F10 RCD 63 A 2P 300 mA type A S two-way], circuits: [{id: -F3, name: Heater, "
              "device: B10 1P+N, cable: 3×1.5 mm² 9 m, use: fixed}]}");
  CHECK(sound(ask(yaml)));
}

TEST_CASE("trip that starts the backup: no RCD ahead starts nothing") {
  CHECK(sound(ask(house("-Q1 switch-disconnector 63 A 2P", "B10 1P+N"))));
}

TEST_CASE("trip that starts the backup: a breaker ahead no larger than the circuit's is advice") {
  const auto all = ask(house("-Q1 switch-disconnector 63 A 2P", "B16 1P+N", "C16 2P"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
  CHECK(broken_ones(all).front().message == "'-F2' of 16 A is no larger than '-F1' behind it");
  CHECK(sound(ask(house("-Q1 switch-disconnector 63 A 2P", "B16 1P+N", "C20 2P"))));
}

TEST_CASE("trip that starts the backup: where the backup cannot trip the breaker, one finding") {
  const std::string yaml = with(house("-F10 RCD 63 A 2P 300 mA type A S two-way", "B10 1P+N"),
                                "fault current: 130 A", "fault current: 30 A");
  CHECK(broken_ones(ask(yaml)).empty());
  CHECK(rules_broken(report_on(yaml)) == "rcd/fault-protection-when-breakers-cannot-trip");
}

TEST_CASE("trip that starts the backup: a set that starts by itself counts as one") {
  const std::string yaml = R"(site: {name: Farm}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {power: 20 kVA, neutral: linked, winding: line-neutral, fixed: yes, fault current: 200 A for 5 s, earth: 16 mm²}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P, operated: controller, without power: 0, break before make: yes, automatic: {priority: [supply, -G1]}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 300 mA type A S]}
  +A2:
    feed: [-Q1, -W2 3×16 mm² 5 m]
    circuits:
      - {id: -F1, name: Boiler, device: B10 1P+N, cable: 3×1.5 mm² 12 m, use: fixed}
chains:
  - [A1, -W3 3×16 mm² 5 m, -Q1:I]
  - [-G1, -W4 3×16 mm² 5 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II, running: [-G1]}
)";
  const auto all = ask(yaml);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(sound(ask(with(yaml, "B10 1P+N", "B10 1P+N 30 mA type A"))));
}

TEST_CASE(
    "trip that starts the backup: unknown fault current of the backup is not taken for an RCD") {
  const std::string yaml = with(house("-F10 RCD 63 A 2P 300 mA type A S two-way", "B10 1P+N"),
                                "fault current: 130 A, ", "");
  CHECK(broken_ones(ask(yaml)).size() == 1);
}

}  // namespace
}  // namespace linewright::tests
