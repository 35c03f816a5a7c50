#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule never_switch_protective_conductor;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::never_switch_protective_conductor, yaml, profile);
}

constexpr std::string_view through = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q10 switch-disconnector 63 A 2P]}
states:
  grid: {}
)";

TEST_CASE("protective conductor: a device in the lines and neutral leaves it whole") {
  CHECK(sound(judged(through)));
}

TEST_CASE("protective conductor: a contactor in it is found") {
  const auto all = judged(rules::never_switch_protective_conductor.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-K1");
  CHECK(broken_ones(all).front().message == "'-K1' can open a protective conductor");
}

TEST_CASE(
    "protective conductor: that it rests closed, or that its poles are not given, is no help") {
  CHECK(says(judged(with(rules::never_switch_protective_conductor.example, " normally closed", "")),
             Outcome::broken, "-K1"));
}

TEST_CASE("protective conductor: a fuse in it is found") {
  CHECK(says(judged(with(rules::never_switch_protective_conductor.example,
                         "contactor 63 A normally closed", "fuse 63 A gG")),
             Outcome::broken, "-K1"));
}

TEST_CASE("protective conductor: a link that needs a tool may part it for tests") {
  CHECK(sound(judged(with(rules::never_switch_protective_conductor.example,
                          "contactor 63 A normally closed", "link"))));
}

TEST_CASE("protective conductor: the contact of a neutral-earth link is not in it") {
  CHECK(sound(judged(
      with(through,
           "boards:", "earthing: {links: {-X5: {at: A1, contact: yes, rest: open}}}\nboards:"))));
}

}  // namespace
}  // namespace linewright::tests
