#include <algorithm>
#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_borrowed_neutral;
}

namespace linewright::tests {
namespace {

/// Two lighting circuits, each or both behind RCDs; the landing takes its neutral as said.
std::string house(const std::string& upstairs, const std::string& landing,
                  const std::string& neutral) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 300 mA type A S]
    circuits:
      - {id: -F1, name: Upstairs, device: )" +
         upstairs + R"(, cable: 3×1.5 mm² 20 m, use: lighting}
      - {id: -F2, name: Landing, device: )" +
         landing + ", cable: 3×1.5 mm² 9 m, use: lighting" + neutral + "}\nstates:\n  grid: {}\n";
}

const std::string rcbo = "B6 1P+N 30 mA type A";
const std::string borrowed = ", neutral from: -F1";

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::no_borrowed_neutral, yaml);
}

TEST_CASE("borrowed neutral: line and neutral through the same devices are sound") {
  CHECK(sound(ask(house(rcbo, rcbo, ""))));
}

TEST_CASE("borrowed neutral: through another RCD it is a danger that names both") {
  const auto all = ask(house(rcbo, rcbo, borrowed));
  REQUIRE(broken_ones(all).size() == 1);
  const Verdict verdict = broken_ones(all).front();
  CHECK(verdict.message == "'Landing': line through '-F2', N through '-F1', must be one way");
  CHECK_FALSE(verdict.severity);
  CHECK(verdict.state == "grid");
}

TEST_CASE("borrowed neutral: under one RCD, through another breaker, it is still a breach") {
  const auto all = ask(house("B6 1P+N", "B6 1P+N", borrowed));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::breach);
}

TEST_CASE("borrowed neutral: single-pole breakers that leave the neutral alone are no borrowing") {
  CHECK(sound(ask(house("B6 1P", "B6 1P", ""))));
}

TEST_CASE("borrowed neutral: a motor without neutral has none to borrow") {
  CHECK(silent(ask(R"(site: {name: Workshop}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Saw, device: C16 3P, cable: 4×2.5 mm² (L1 L2 L3 PE) 20 m, use: motor}
states:
  grid: {}
)")));
}

TEST_CASE("borrowed neutral: two inverters in parallel split line and neutral alike") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: none}
synchronised: [[-T1, -T2]]
panel:
  id: +A2
  interior: one source with bypass
  grid: [A1, -F10 C32 2P, -W2 3×10 mm² 5 m]
  inverters:
    -T1: {in: [-F21 C32 2P, -W3 3×6 mm² 2 m], out: [-W4 3×6 mm² 2 m, -F22 C32 2P]}
    -T2: {in: [-F23 C32 2P, -W6 3×6 mm² 2 m], out: [-W7 3×6 mm² 2 m, -F24 C32 2P]}
  bypass: 40 A 2P
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W5 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
)")));
}

/// A circuit behind a changeover whose neutral the file may leave open.
std::string on_generator(const std::string& generator_cable, const std::string& changeover) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G1: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes, earth: 16 mm²}
boards:
  +A1:
    feed: [-Q3, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
devices: {-Q3: )" +
         changeover + R"(}
chains:
  - [supply, -W1 3×16 mm² 3 m, -Q3:I]
  - [-G1, )" +
         generator_cable + R"(, -Q3:II]
states:
  grid: {-Q3: I}
  generator: {-Q3: II}
)";
}

TEST_CASE("borrowed neutral: a neutral that comes home to another source is a danger") {
  CHECK(sound(ask(on_generator("-W3 3×6 mm² 5 m", "changeover I-0-II 63 A 2P"))));
  // The neutral of the changeover stays on the supply, which runs beside the generator.
  const auto all =
      ask(with(with(on_generator("-W3 2×6 mm² (L1 PE) 5 m", "changeover I-0-II 63 A 1P"),
                    "generator: {-Q3: II}", "generator: {-Q3: II, running: [supply, -G1]}"),
               "chains:", "chains:\n  - [supply, -W9 1×16 mm² (N) 3 m, A1]"));
  CHECK(states_with(all, Outcome::broken) == "generator");
}

TEST_CASE("borrowed neutral: one that reaches no source at all is told once, by another rule") {
  const std::string yaml = on_generator("-W3 2×6 mm² (L1 PE) 5 m", "changeover I-0-II 63 A 2P");
  CHECK(broken_ones(ask(yaml)).empty());
  const Report report = report_on(yaml);
  CHECK(std::ranges::count(report.findings, "earthing/one-neutral-bond-per-state",
                           &Finding::rule) == 1);
}

TEST_CASE("borrowed neutral: many neutrals on one wrong bar are one finding that names them") {
  std::string circuits;
  for (int i = 1; i <= 40; ++i)
    circuits += "      - {name: Group " + std::to_string(i) +
                ", device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 20 m, use: lighting, neutral "
                "from: -F1}\n";
  const auto found = broken_ones(ask(with(house(rcbo, rcbo, ""), "states:", circuits + "states:")));
  REQUIRE(found.size() == 1);
  CHECK(found.front().element == "+A1");
  CHECK(found.front().message ==
        "'Group 1' and 39 more circuits: line through a device of its own, N through '-F1', must "
        "be one way");
  CHECK(found.front().edits.size() == 40);
  REQUIRE(found.front().notes.size() == 2);
  for (int i = 1; i <= 40; ++i)
    CHECK(found.front().notes[0].text.find("'Group " + std::to_string(i) + "'") !=
          std::string::npos);
}

TEST_CASE("borrowed neutral: whether it reaches the source may hang on poles not given: open") {
  const auto all =
      ask(on_generator("-W3 2×6 mm² (L1 PE) 5 m, -Q3:II]\n"
                       "  - [-G1, -W6 1×6 mm² (N) 5 m, -Q3:I]\n"
                       "  - [-G1, -W7 2×6 mm² (L1 PE) 5 m",
                       "changeover I-0-II 63 A"));
  CHECK(states_with(all, Outcome::open) == "generator");
  CHECK(broken_ones(all).empty());
}

}  // namespace
}  // namespace linewright::tests
