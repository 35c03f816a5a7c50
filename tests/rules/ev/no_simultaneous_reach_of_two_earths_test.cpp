#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_simultaneous_reach_of_two_earths;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::no_simultaneous_reach_of_two_earths, yaml, profile);
}

constexpr std::string_view rod = R"(
profile: GB
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S}
boards:
  +A1:
    feed: [supply, -W1 2×25 mm² + 16 mm² PE 3 m double insulated, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 2×6 mm² 20 m, use: EV, outdoors: yes, own electrode: 60 ohm,
         charging: {points: 1, reach: 2.5 m, electrode clear: yes}}
states:
  grid: {}
)";

TEST_CASE("two earths: at 2.5 m with a clear electrode it holds, closer it is found") {
  CHECK(sound(judged(rod)));
  const auto all = judged(with(rod, "reach: 2.5 m", "reach: 2.4 m"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Car' is 2.4 m from another earth, must be 2.5 m or more");
  CHECK(broken_ones(judged(rules::no_simultaneous_reach_of_two_earths.example)).size() == 1);
}

TEST_CASE("two earths: an electrode beside bonded metal is found") {
  CHECK(broken_ones(judged(with(rod, "electrode clear: yes", "electrode clear: no"))).size() == 1);
}

TEST_CASE("two earths: distance and place of the electrode that are not given are open") {
  const auto all = judged(with(rod, "reach: 2.5 m, electrode clear: yes", "gives back: no"));
  REQUIRE(open_ones(all).size() == 2);
  CHECK(open_ones(all)[0].missing == "'reach' under 'charging' of 'Car'");
  CHECK(open_ones(all)[1].missing == "'electrode clear' under 'charging' of 'Car'");
}

TEST_CASE("two earths: a charge point on the common earth has but one") {
  const auto near = with(rod, "reach: 2.5 m", "reach: 0.5 m");
  CHECK(silent(judged(with(near, "own electrode: 60 ohm", "own electrode: no"))));
  // An electrode more on the common earth, as with a PE core beside it, makes no second earth.
  CHECK(silent(judged(with(near, "cable: 2×6 mm²", "cable: 3×6 mm²"))));
}

TEST_CASE("two earths: a sound site on its own rod has no other finding") {
  const Report report = report_on(rod);
  CHECK(rules_broken(report).empty());
}

}  // namespace
}  // namespace linewright::tests
