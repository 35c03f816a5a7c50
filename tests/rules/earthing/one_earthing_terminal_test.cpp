#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule one_earthing_terminal;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml) {
  return verdicts(rules::one_earthing_terminal, yaml);
}

constexpr std::string_view two_boards = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {name: Oven, device: B32 1P+N 30 mA type A, cable: 3×6 mm² 9 m, use: cooking}
  +A2:
    feed: [A1, -W2 3×10 mm² 8 m, -Q2 switch-disconnector 63 A 2P]
    circuits:
      - {name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
      - {name: Lights, device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}
states:
  grid: {}
)";

TEST_CASE("earthing terminal: circuits with a PE down to the supply's earth are sound") {
  CHECK(sound(judged(two_boards)));
}

TEST_CASE("earthing terminal: a circuit in two cores is broken at the circuit") {
  const auto broken = broken_ones(judged(with(two_boards, "3×2.5 mm²", "2×2.5 mm²")));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().message ==
        "'Sockets' has no protective conductor to the main earthing terminal");
}

TEST_CASE("earthing terminal: a board fed in two cores is one finding that names its circuits") {
  const auto broken = broken_ones(judged(with(two_boards, "-W2 3×10", "-W2 2×10")));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().element == "+A2");
  CHECK(broken.front().notes.size() == 2);
}

TEST_CASE("earthing terminal: a board with an earth conductor of its own is sound") {
  CHECK(sound(judged(
      with(with(two_boards, "-W2 3×10", "-W2 2×10"), "  +A2:\n", "  +A2:\n    earth: 10 mm²\n"))));
}

TEST_CASE("earthing terminal: double insulated equipment in two cores is not asked") {
  const auto all = judged(with(with(two_boards, "3×1.5 mm²", "2×1.5 mm²"), "use: lighting",
                               "use: lighting, class two: yes"));
  CHECK(sound(all));
}

TEST_CASE("earthing terminal: a PEN led to the board is a way to earth") {
  CHECK(
      sound(judged(with(with(two_boards, "TN-S", "TN-C-S, pen split: A1"),
                        "-W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P", "-W1 2×16 mm² 3 m"))));
}

constexpr std::string_view own_bond = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {main terminal: A1, electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 2×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 2×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("earthing terminal: an inverter's own bond is no earth while its frame hangs free") {
  CHECK(says(judged(own_bond), Outcome::broken, "-T1"));
  CHECK(sound(judged(with(own_bond, "-W2 2×6", "-W2 3×6"))));
}

TEST_CASE("earthing terminal: an inverter with its own bond may stand on a rod of its own") {
  CHECK(sound(
      judged(with(own_bond, "-XE1: 20 ohm", "-XE1: 20 ohm, -XE2: {resistance: 20 ohm, at: -T1}"))));
}

TEST_CASE("earthing terminal: a PV inverter in two cores is broken") {
  constexpr std::string_view roof = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
inverters:
  -T1: {kind: pv, power: 3 kVA}
chains:
  - [-T1:ac, -W2 2×4 mm² 8 m, -F1 C16 2P, A1]
states:
  grid: {}
)";
  CHECK(says(judged(roof), Outcome::broken, "-T1"));
  CHECK(sound(judged(with(roof, "-W2 2×4", "-W2 3×4"))));
}

}  // namespace
}  // namespace linewright::tests
