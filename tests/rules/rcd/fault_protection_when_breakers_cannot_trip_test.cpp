#include <string>

#include "check/breaker_trips.hpp"
#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule fault_protection_when_breakers_cannot_trip;
}

namespace linewright::tests {
namespace {

using namespace unit;

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::fault_protection_when_breakers_cannot_trip, yaml);
}

std::string house(const std::string& inverter, const std::string& circuits) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 6 m]
    circuits:
)" + circuits +
         R"(inverters:
  -T1: {kind: battery, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open, )" +
         inverter + R"(}
chains:
  - [A1, -F9 C32 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

std::string cooker(const std::string& device) {
  return "      - {id: -F1, name: Cooker, device: " + device +
         ", cable: 3×6 mm² 12 m, use: cooking}\n";
}

TEST_CASE("breakers in island: 43.5 A do not open a B32, an RCD makes it sound") {
  const auto all = ask(house("fault current: 43.5 A", cooker("B32 1P+N")));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "island"));
  // 5 × 32 A = 160 A
  CHECK(broken_ones(all).front().message ==
        "'-F1' needs 160 A to open, '-T1' gives at most 43.5 A");
  CHECK(states_with(all, Outcome::broken) == "island");
  CHECK(sound(ask(house("fault current: 43.5 A", cooker("B32 1P+N 30 mA type A")))));
}

TEST_CASE("breakers in island: 160 A open a B32, 159 A do not") {
  CHECK(sound(ask(house("fault current: 160 A", cooker("B32 1P+N")))));
  CHECK(broken_ones(ask(house("fault current: 159 A", cooker("B32 1P+N")))).size() == 1);
}

TEST_CASE("breakers in island: the cables can take what the source would give") {
  // 18 m and 2 × 0.0225 / 6 Ω a metre: 0.135 Ω; 0.95 × 230 V / 0.135 Ω = 1619 A, above 320 A
  CHECK(sound(ask(house("fault current: 400 A", cooker("C32 1P+N")))));
  // 206 m: 1.545 Ω, 141 A, below 160 A
  const std::string far = with(cooker("B32 1P+N"), "6 mm² 12 m", "6 mm² 200 m");
  const auto all = ask(house("fault current: 400 A", far));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-F1' needs 160 A to open, '-T1' gives at most 141 A");
}

TEST_CASE("breakers in island: a source that stops in time becomes a question for the site") {
  const auto all = ask(house("fault current: 43.5 A for 0.1 s", cooker("B32 1P+N")));
  CHECK(broken_ones(all).empty());
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all).front().element == "-T1");
  CHECK(questions_of(all).front().expected == "it stops within 0.4 s");
  CHECK(broken_ones(ask(house("fault current: 43.5 A for 0.5 s", cooker("B32 1P+N")))).size() == 1);
}

TEST_CASE("breakers in island: without the source's figure it is open, not a pass") {
  const auto all = ask(house("grid: forming", cooker("B32 1P+N")));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing ==
        "what '-T1' drives into a fault (fault current: … A for … s)");
  const std::string bare = with(cooker("B32 1P+N"), "3×6 mm² 12 m", "3×6 mm²");
  CHECK(open_ones(ask(house("fault current: 400 A", bare))).size() == 1);
}

TEST_CASE("breakers in island: several circuits are one cause at the source") {
  const std::string two =
      cooker("B32 1P+N") +
      "      - {id: -F2, name: Boiler, device: C16 1P+N, cable: 3×2.5 mm² 9 m, use: fixed}\n";
  const auto all = ask(house("fault current: 43.5 A", two));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-T1", "island"));
  CHECK(broken_ones(all).front().notes.size() == 2);
}

TEST_CASE("breakers in island: sockets without any RCD have one finding, elsewhere") {
  const std::string yaml = house(
      "fault current: 43.5 A, waveform: sine",
      "      - {id: -F1, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 9 m, use: sockets}\n");
  CHECK(silent(ask(yaml)));
  CHECK(rules_broken(report_on(yaml)) == "rcd/additional-protection-circuits");
}

TEST_CASE("breakers in island: a fuse carries 1.25 times its rating for ever") {
  // 1.25 × 40 A = 50 A
  CHECK(broken_ones(ask(house("fault current: 50 A", cooker("fuse 40 A gG 1P")))).size() == 1);
  CHECK(open_ones(ask(house("fault current: 51 A", cooker("fuse 40 A gG 1P")))).size() == 1);
}

TEST_CASE("breakers in island: a generator is bounded by its reactance") {
  const auto set = [](const std::string& keys) {
    return "site: {name: Hut}\nearthing: {electrodes: {-XE1: 20 ohm}}\n"
           "generators:\n  -G1: {system: 1/N/PE 230 V 50 Hz, power: 4.6 kVA, neutral: linked, "
           "winding: line-neutral, fixed: yes, earth: 6 mm², " +
           keys +
           "}\nboards:\n  +A1:\n    feed: [-G1, -W1 3×6 mm² 3 m]\n    circuits:\n"
           "      - {id: -F1, name: Pump, device: C16 1P+N, cable: 3×2.5 mm² 9 m, use: fixed}\n"
           "states:\n  generator: {running: [-G1]}\n";
  };
  // 4600 VA / 230 V = 20 A; 1.5 × 20 A / 0.2 = 150 A, below 10 × 16 A = 160 A
  CHECK(broken_ones(ask(set("reactance: 0.2"))).size() == 1);
  // 1.5 × 20 A / 0.18 = 167 A: may open it or not
  CHECK(open_ones(ask(set("reactance: 0.18"))).size() == 1);
  CHECK(sound(ask(set("fault current: 160 A for 1 s"))));
}

TEST_CASE("opens at once: 5, 10 and 20 times the rated current, nothing for other curves") {
  CHECK(check::opens_at_once("B", 16.0 * ampere) == 80.0 * ampere);
  CHECK(check::opens_at_once("C", 16.0 * ampere) == 160.0 * ampere);
  CHECK(check::opens_at_once("D", 16.0 * ampere) == 320.0 * ampere);
  CHECK_FALSE(check::opens_at_once("gG", 16.0 * ampere));
}

TEST_CASE("loop resistance: there over the line, back over the protective conductor") {
  const check::LoopCable cable{100.0 * metre, 2.5 * mm2, 2.5 * mm2, 0.0225 * ohm_mm2_per_metre};
  // 0.0225 × 100 / 2.5 = 0.9 Ω each way
  CHECK(check::loop_resistance(cable)->in(ohm) == Approx(1.8));
  check::LoopCable twice = cable;
  twice.length = 200.0 * metre;
  CHECK(check::loop_resistance(twice)->in(ohm) == Approx(3.6));
  check::LoopCable none = cable;
  none.earth = Area{};
  CHECK_FALSE(check::loop_resistance(none));
}

TEST_CASE("most from a generator: 1.5 rated currents over its reactance, none without it") {
  CHECK(check::most_from_generator(20.0 * ampere, 0.2)->in(ampere) == Approx(150.0));
  CHECK_FALSE(check::most_from_generator(20.0 * ampere, 0.0));
}

}  // namespace
}  // namespace linewright::tests
