#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule manual_fallback;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::manual_fallback;

std::string moved(std::string_view by) {
  return with(rule.example, ", operated: controller, without power: 0", by);
}

TEST_CASE("manual fallback: a bypass by hand holds") {
  CHECK(sound(verdicts(rule, moved(", operated: hand"))));
  CHECK(sound(verdicts(rule, moved(", operated: both, without power: 0"))));
}

TEST_CASE("manual fallback: a bypass that a coil moves is no way by hand, unless it falls there") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].notes.size() == 1);
  CHECK(sound(verdicts(rule, moved(", operated: controller, without power: II"))));
}

TEST_CASE("manual fallback: a device that does not say who moves it does not count") {
  CHECK(broken_ones(verdicts(rule, moved(""))).size() == 1);
}

TEST_CASE("manual fallback: where the file names no bypass the site is asked") {
  const auto all =
      verdicts(rule, with(rule.example, "  bypass: {-Q2: II, running: [supply]}\n", ""));
  CHECK(questions_of(all).size() == 1);
  CHECK(broken_ones(all).empty());
}

TEST_CASE("manual fallback: a state that feeds only some of them is not enough") {
  const std::string more = with(
      moved(", operated: hand"), "boards:\n",
      "boards:\n  +A4: {service: backup, feed: [-T1:backup], circuits: [{name: Fridge, device: B10 "
      "1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: sockets}]}\n");
  CHECK(broken_ones(verdicts(rule, more)).size() == 1);
}

TEST_CASE("manual fallback: circuits that no automatic equipment feeds are not asked") {
  CHECK(silent(verdicts(rule, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand}
boards:
  +A1:
    service: backup
    feed: [-Q1, -W4 3×10 mm² 5 m]
    circuits: [{name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)")));
}

}  // namespace
}  // namespace linewright::tests
