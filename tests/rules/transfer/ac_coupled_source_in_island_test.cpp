#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule ac_coupled_source_in_island;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::ac_coupled_source_in_island;

std::string sound_site() {
  return with(rule.example, "power: 6 kVA", "power: 5 kVA");
}

// 5 kVA follow 5 kVA; the battery takes 50 V · 200 A = 10 kW.
TEST_CASE("ac coupled: as much as the island's own power holds, more is a danger") {
  CHECK(sound(verdicts(rule, sound_site())));
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "6 kVA follow '-T1', which can take 5 kVA");
  CHECK(
      broken_ones(verdicts(rule, with(sound_site(), "power: 5 kVA, freq", "power: 5.1 kVA, freq")))
          .size() == 1);
}

TEST_CASE("ac coupled: what the maker lets follow it counts in place of its power") {
  CHECK(sound(verdicts(rule, with(rule.example, "    power: 5 kVA\n",
                                  "    power: 5 kVA\n    ac coupled up to: 6 kVA\n"))));
}

TEST_CASE("ac coupled: a follower that nothing holds back is a danger, one that may be is asked") {
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "watt: yes", "watt: no"))).size() == 1);
  const auto open = open_ones(verdicts(rule, with(sound_site(), ", frequency watt: yes", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'frequency watt' of '-T2'");
}

// 50 V · 100 A = 5 kW takes 5 kVA just; 99 A do not.
TEST_CASE("ac coupled: the battery takes the whole power") {
  CHECK(sound(verdicts(rule, with(sound_site(), "200 A", "100 A"))));
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "200 A", "99 A"))).size() == 1);
  CHECK(open_ones(verdicts(rule, with(sound_site(), ", charge current: 200 A", ""))).size() == 1);
}

TEST_CASE("ac coupled: a roof on the grid's side is dead in island and not asked") {
  CHECK(silent(verdicts(rule, with(rule.example, "-F5 C32 2P, A3]", "-F5 C32 2P, A1]"))));
}

}  // namespace
}  // namespace linewright::tests
