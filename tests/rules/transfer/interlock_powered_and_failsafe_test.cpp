#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule interlock_powered_and_failsafe;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::interlock_powered_and_failsafe;

TEST_CASE(
    "failsafe: a latching transfer that reports its position holds, one that does not breaks") {
  CHECK(sound(verdicts(rule, with(rule.example, "with feedback: no", "with feedback: yes"))));
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-Q1");
}

TEST_CASE("failsafe: one that falls to 0 by itself need not report") {
  CHECK(sound(verdicts(rule, with(rule.example, " latching", ""))));
}

TEST_CASE("failsafe: whether it reports is asked where it is not said") {
  const auto open = open_ones(verdicts(rule, with(rule.example, ", with feedback: no", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'with feedback' of '-Q1'");
}

TEST_CASE("failsafe: a changeover moved by hand is not asked") {
  CHECK(silent(verdicts(
      rule, with(rule.example, "operated: controller, without power: 0", "operated: hand"))));
}

constexpr const char* single = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: battery, grid: forming, bond: always closed, synchronises at: [-Q1]}
devices:
  -Q1: {device: contactor 63 A 2P, operated: controller, without power: open, mirror contact: no}
boards:
  +A2: {feed: [supply, -W1 3×16 mm² 5 m, -Q1]}
chains:
  - [-T1:ac, -W3 3×6 mm² 3 m, A2]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T1]}
)";

TEST_CASE("failsafe: one contactor that may weld unnoticed is a danger, a mirror contact tells") {
  CHECK(broken_ones(verdicts(rule, single)).size() == 1);
  CHECK(sound(verdicts(rule, with(single, "mirror contact: no", "mirror contact: yes"))));
  CHECK(open_ones(verdicts(rule, with(single, ", mirror contact: no", ""))).size() == 1);
}

TEST_CASE("failsafe: where the country wants two in series, one is not enough, two are") {
  const std::string mirror = with(single, "mirror contact: no", "mirror contact: yes");
  CHECK(broken_ones(verdicts(rule, mirror, "DE")).size() == 1);
  const std::string two = with(with(with(mirror, "5 m, -Q1]", "5 m, -Q2 contactor 63 A 2P, -Q1]"),
                                    "grid: {-Q1: closed}", "grid: {-Q1: closed, -Q2: closed}"),
                               "island: {-Q1: open", "island: {-Q1: open, -Q2: open");
  CHECK(sound(verdicts(rule, two, "DE")));
}

// Without power -Q1 closes onto the supply while the inverter runs its island.
TEST_CASE("failsafe: a contactor that closes without power joins the island to a dead grid") {
  const auto broken =
      broken_ones(verdicts(rule, with(with(single, "without power: open", "without power: closed"),
                                      "contact: no", "contact: yes")));
  REQUIRE(broken.size() == 1);
  REQUIRE(broken[0].notes.size() == 1);
  CHECK(broken[0].notes[0].text == "when control power is lost in 'island': close -Q1");
}

}  // namespace
}  // namespace linewright::tests
