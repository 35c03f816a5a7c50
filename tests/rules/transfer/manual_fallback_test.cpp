#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule manual_fallback;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::manual_fallback;

std::string with_bypass(std::string_view device) {
  return with(
      with(with(rule.example, "feed: [-T1:backup, -W4 3×10 mm² 5 m]",
                "feed: [-Q2, -W4 3×10 mm² 5 m]"),
           "chains:\n",
           "devices:\n  -Q2: {device: changeover I-0-II 63 A 2P, break before make: yes" +
               std::string(device) +
               "}\nchains:\n  - [-T1:backup, -F22 C32 2P, -Q2:I]\n  - [A1, -F5 C32 2P, -Q2:II]\n"),
      "  grid: {}\n  island: {running: [-T1]}\n",
      "  grid: {-Q2: I}\n  island: {-Q2: I, running: [-T1]}\n"
      "  bypass: {-Q2: II, running: [supply]}\n");
}

TEST_CASE("manual fallback: a bypass by hand holds") {
  CHECK(sound(verdicts(rule, with_bypass(", operated: hand"))));
}

TEST_CASE("manual fallback: nothing round the inverter is advice, told once with the circuits") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].notes.size() == 1);
}

TEST_CASE("manual fallback: a bypass that a coil moves is no way by hand, unless it falls there") {
  CHECK(
      broken_ones(verdicts(rule, with_bypass(", operated: controller, without power: 0"))).size() ==
      1);
  CHECK(sound(verdicts(rule, with_bypass(", operated: controller, without power: II"))));
}

TEST_CASE("manual fallback: a device that does not say who moves it does not count") {
  CHECK(broken_ones(verdicts(rule, with_bypass(""))).size() == 1);
}

TEST_CASE("manual fallback: a state that feeds only some of them is not enough") {
  const std::string more = with(
      with_bypass(", operated: hand"), "boards:\n",
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
