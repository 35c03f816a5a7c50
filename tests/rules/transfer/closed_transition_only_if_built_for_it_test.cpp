#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule closed_transition_only_if_built_for_it;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::closed_transition_only_if_built_for_it;

std::string sound_site() {
  return with(rule.example, "synchronism check: no", "synchronism check: yes");
}

TEST_CASE("closed transition: check, time limit and consent together hold") {
  CHECK(sound(verdicts(rule, sound_site())));
}

TEST_CASE("closed transition: without synchronism check or consent it is a danger") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-Q1");
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "consent: yes", "consent: no"))).size() == 1);
}

TEST_CASE("closed transition: the country's longest overlap is the border") {
  CHECK(sound(verdicts(rule, sound_site(), "DE")));  // 100 ms
  const auto over = verdicts(rule, with(sound_site(), "100 ms", "101 ms"), "DE");
  REQUIRE(broken_ones(over).size() == 1);
  CHECK(broken_ones(over)[0].message == "'-Q1' overlaps for 101 ms, at most 0.1 s are allowed");
  CHECK(sound(verdicts(rule, with(sound_site(), "100 ms", "101 ms"))));  // no limit there
}

TEST_CASE("closed transition: what is not said is asked, each by its key") {
  const auto all = verdicts(rule, with(sound_site(),
                                       "{synchronism check: yes, overlap: 100 ms, "
                                       "distributor consent: yes}",
                                       "{}"));
  CHECK(open_ones(all).size() == 3);
  CHECK(open_ones(all)[0].missing == "'synchronism check' under 'closed transition' of '-Q1'");
}

TEST_CASE("closed transition: an ordinary changeover is not asked") {
  CHECK(
      silent(verdicts(rule, with(sound_site(),
                                 "    closed transition: {synchronism check: yes, overlap: 100 ms, "
                                 "distributor consent: yes}\n",
                                 ""))));
}

}  // namespace
}  // namespace linewright::tests
