#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule generator_through_the_inverter;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::generator_through_the_inverter, yaml, profile);
}

constexpr std::string_view through = R"(
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {system: 1/N/PE 230 V 50 Hz, neutral: linked, winding: line-neutral, fixed: yes, own rcd: no}
inverters:
  -T1: {kind: hybrid, backup side: yes, phases: 1, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
chains:
  - [-G2, -W1 3×6 mm² 9 m, -F9 C32 2P, -W2 3×6 mm² 3 m, -T1:ac]
states:
  island: {-F9: open, running: [-T1]}
  generator: {running: [-G2, -T1]}
)";

TEST_CASE("through the inverter: a linked generator shown in a state of its own holds") {
  CHECK(sound(judged(through)));
}

TEST_CASE("through the inverter: a contact claimed closed while the generator feeds is found") {
  const auto all = judged(rules::generator_through_the_inverter.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().state == "generator");
}

TEST_CASE("through the inverter: without a state that shows it, it is open") {
  const auto all = judged(with(through, "running: [-G2, -T1]", "running: [-G2]"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().message == "what happens when '-G2' feeds the loads through '-T1'");
}

TEST_CASE("through the inverter: a floating set is left to the rule on generators") {
  const auto site = with(through, "neutral: linked", "neutral: floating");
  CHECK(sound(judged(site)));
  CHECK(rules_broken(report_on(site)) == "earthing/generator-with-switched-neutral");
}

TEST_CASE("through the inverter: a generator that cannot reach the AC side is not asked") {
  CHECK(silent(judged(R"(
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {system: 1/N/PE 230 V 50 Hz, neutral: linked, winding: line-neutral, fixed: yes, own rcd: no}
inverters:
  -T1: {kind: hybrid, backup side: yes, phases: 1, neutral in island: opened, bond: closes in island, bond rest: open}
devices:
  -Q1: changeover I-0-II 40 A 2P by hand
boards:
  +A3: {feed: [-Q1]}
chains:
  - [-T1:backup, -W3 3×6 mm² 3 m, -Q1:I]
  - [-G2, -W1 3×6 mm² 9 m, -Q1:II]
states:
  island: {-Q1: I, running: [-T1]}
  generator: {-Q1: II, running: [-G2]}
)")));
}

TEST_CASE("through the inverter: a contact named open in that state is what it does anyway") {
  CHECK(sound(judged(with(through, "generator: {", "generator: {-T1:bond: open, "))));
}

}  // namespace
}  // namespace linewright::tests
