#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule works_on_source_waveform;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::works_on_source_waveform, yaml);
}

std::string house(const std::string& inverter,
                  const std::string& device = "B16 1P+N 30 mA type A") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: )" +
         device + R"(, cable: 3×2.5 mm² 12 m, use: sockets}
inverters:
  -T1: {kind: battery, backup side: yes, power: 3 kVA, neutral in island: opened, bond: closes in island, bond rest: open, )" +
         inverter + R"(}
chains:
  - [A1, -F2 C20 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

TEST_CASE("waveform: a sine holds in any of its usual words, and asks for a test in island") {
  for (const char* word : {"sine", "pure sine", "Sinusoidal"}) {
    const auto all = ask(house(std::string("waveform: ") + word));
    CHECK(sound(all));
    REQUIRE(questions_of(all).size() == 1);
    CHECK(questions_of(all).front().element == "-T1");
  }
}

TEST_CASE("waveform: anything else is broken in island, not on the grid") {
  const auto all = ask(house("waveform: modified sine"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-T1", "island"));
  CHECK(broken_ones(all).front().message ==
        "'-T1' makes 'modified sine', must be sine for the RCDs that it feeds");
}

TEST_CASE("waveform: the maker's word for the type that it feeds is as good") {
  CHECK(sound(ask(house("waveform: stepped, island rcd type: A"))));
  CHECK(broken_ones(ask(house("waveform: stepped, island rcd type: F"))).size() == 1);
  CHECK(sound(ask(house("waveform: stepped, island rcd type: F", "B16 1P+N 30 mA type F"))));
}

TEST_CASE("waveform: one that is not said is open, not a pass") {
  const auto all = ask(house("fault current: 30 A"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "waveform of '-T1' (waveform: sine)");
}

TEST_CASE("waveform: a source that feeds no RCD is not asked, nor is one that only follows") {
  CHECK(silent(ask(house("waveform: stepped", "B16 1P+N"))));
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
inverters:
  -T1: {kind: pv, power: 3 kVA, pv: {power: 3 kWp}}
chains:
  - [A1, -F2 C20 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
