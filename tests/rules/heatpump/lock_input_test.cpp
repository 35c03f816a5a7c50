#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule lock_input;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::lock_input, yaml);
}

std::string house(const std::string& pump, const std::string& keys = "") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 1P+N 30 mA type B, cable: 3×2.5 mm² 12 m, use: heat pump)" +
         keys + ", heat pump: {" + pump + R"(}}
inverters:
  -T1: {kind: battery, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C32 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

TEST_CASE("lock input: wired and blocking at rest is sound, and asks for a try on site") {
  const auto all = ask(house("locked by: -T1, lock rest: blocked"));
  CHECK(sound(all));
  CHECK(questions_of(all).size() == 1);
}

TEST_CASE("lock input: nothing that locks it, or a lock that a cut wire frees, is broken") {
  const auto none = ask(house("locked by: no"));
  REQUIRE(broken_ones(none).size() == 1);
  CHECK(says(none, Outcome::broken, "-F1"));
  CHECK(broken_ones(none).front().message == "nothing locks 'Heat pump' in island");
  CHECK(broken_ones(ask(house("locked by: -T1, lock rest: free"))).size() == 1);
}

TEST_CASE("lock input: what is not said is open, not a pass") {
  CHECK(open_ones(ask(house("heater: none"))).size() == 1);
  CHECK(open_ones(ask(house("locked by: -T1"))).size() == 1);
}

TEST_CASE("lock input: a heat pump that is dropped in island is not asked") {
  CHECK(silent(ask(house("heater: none", ", shed in island: yes"))));
}

TEST_CASE("lock input: a heat pump that only the grid feeds is not asked") {
  CHECK(silent(ask(with(house("heater: none"), "  island: {running: [-T1]}\n", ""))));
}

}  // namespace
}  // namespace linewright::tests
