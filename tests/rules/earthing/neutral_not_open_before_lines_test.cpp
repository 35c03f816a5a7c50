#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule neutral_not_open_before_lines;
}

namespace linewright::tests {
namespace {

std::string_view broken_site() {
  return rules::neutral_not_open_before_lines.example;
}

std::vector<Verdict> judged(std::string_view yaml) {
  return verdicts(rules::neutral_not_open_before_lines, yaml);
}

std::string single_phase(std::string_view timing) {
  return R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P )" +
         std::string(timing) + R"(]}
states:
  grid: {}
)";
}

TEST_CASE("neutral timing: poles that move together, or N first in and last out, are sound") {
  CHECK(sound(judged(with(broken_site(), "neutral separate", "neutral simultaneous"))));
  CHECK(sound(judged(with(broken_site(), "neutral separate", "neutral early"))));
}

TEST_CASE("neutral timing: a pole of its own on three phases is a danger at the changeover") {
  const auto broken = broken_ones(judged(broken_site()));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().element == "-Q1");
  CHECK_FALSE(broken.front().severity.has_value());
}

TEST_CASE("neutral timing: on a single phase it is a breach") {
  const auto broken = broken_ones(judged(single_phase("neutral separate")));
  REQUIRE(broken.size() == 1);
  CHECK(broken.front().severity == Severity::breach);
}

TEST_CASE("neutral timing: a three-phase changeover that does not say is open, not a pass") {
  const auto open = open_ones(judged(with(broken_site(), " neutral separate", "")));
  REQUIRE(open.size() == 1);
  CHECK(open.front().element == "-Q1");
}

TEST_CASE("neutral timing: a main switch that does not say is one mechanism") {
  CHECK(sound(judged(single_phase(""))));
}

TEST_CASE("neutral timing: a device that leaves N closed is not asked") {
  CHECK(silent(judged(with(broken_site(), "4P by hand neutral separate", "3P by hand"))));
}

}  // namespace
}  // namespace linewright::tests
