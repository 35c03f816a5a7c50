#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_pen_through_rcd_or_switch;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::no_pen_through_rcd_or_switch, yaml, profile);
}

constexpr std::string_view three_poles = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-C-S, pen split: A1}
boards:
  +A1:
    feed: [supply, -W1 4×16 mm² 5 m, -Q10 switch-disconnector 63 A 3P]
states:
  grid: {}
)";

TEST_CASE("PEN: three poles beside an unbroken PEN hold, though a quick look sees a switch in it") {
  CHECK(sound(judged(three_poles)));
}

TEST_CASE("PEN: a four-pole main switch ahead of the division is found") {
  const auto all = judged(rules::no_pen_through_rcd_or_switch.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-Q10' opens the PEN");
}

TEST_CASE("PEN: an RCD around it is found even where it does not open it") {
  const auto all = judged(with(three_poles, "switch-disconnector 63 A 3P", "RCD 63 A 3P 300 mA"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "the PEN passes through RCD '-Q10'");
}

TEST_CASE("PEN: a device whose poles are not given is open") {
  const auto all = judged(with(three_poles, " 3P", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().element == "-Q10");
}

TEST_CASE("PEN: divided ahead of the switch, four poles are sound") {
  const auto all = judged(with(with(three_poles, "pen split: A1", "pen split: supply"),
                               "-W1 4×16 mm² 5 m, -Q10 switch-disconnector 63 A 3P",
                               "-W1 5×16 mm² 5 m, -Q10 switch-disconnector 63 A 4P"));
  CHECK(all.empty());
}

}  // namespace
}  // namespace linewright::tests
