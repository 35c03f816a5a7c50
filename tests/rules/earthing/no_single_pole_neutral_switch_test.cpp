#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_single_pole_neutral_switch;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::no_single_pole_neutral_switch, yaml, profile);
}

std::string feed(std::string_view device) {
  return with(R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 5×16 mm² 5 m, -Q10 DEVICE]}
states:
  grid: {}
)",
              "DEVICE", device);
}

TEST_CASE("neutral switch: four poles, or three and a solid neutral, hold") {
  CHECK(sound(judged(feed("switch-disconnector 63 A 4P"))));
  CHECK(sound(judged(feed("switch-disconnector 63 A 3P+N"))));
  CHECK(sound(judged(feed("switch-disconnector 63 A 3P"))));
}

TEST_CASE("neutral switch: a contactor in the neutral alone is found") {
  const auto all = judged(rules::no_single_pole_neutral_switch.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-K2");
  CHECK(broken_ones(all).front().message == "'-K2' opens the neutral alone");
}

TEST_CASE("neutral switch: a tool-operated link in the neutral is not a switch") {
  CHECK(sound(judged(with(rules::no_single_pole_neutral_switch.example,
                          "-K2: contactor 63 A normally closed", "-K2: link"))));
}

TEST_CASE("neutral switch: a fuse in the neutral is found though it has a pole for every line") {
  const auto all = judged(feed("fuse 63 A gG 4P"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "a fuse of '-Q10' can open the neutral alone");
  CHECK(sound(judged(feed("fuse 63 A gG 3P"))));
  CHECK(sound(judged(feed("fuse-switch 63 A 4P"))));
}

TEST_CASE("neutral switch: poles that are not given are open") {
  const auto all = judged(feed("switch-disconnector 63 A"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().element == "-Q10");
}

}  // namespace
}  // namespace linewright::tests
