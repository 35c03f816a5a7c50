#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule break_before_make;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::break_before_make;

TEST_CASE("break before make: a changeover that breaks first, or passes 0, holds") {
  CHECK(sound(verdicts(rule, with(rule.example, "make: no", "make: yes"))));
  CHECK(sound(verdicts(rule, with(rule.example, "I-II 63 A 2P by hand, break before make: no",
                                  "I-0-II 63 A 2P by hand"))));
}

TEST_CASE("break before make: an overlap is told once, with each step and direction") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-Q1");
  REQUIRE(broken[0].notes.size() == 2);
  CHECK(broken[0].notes[0].text ==
        "from 'grid' to 'generator': '-Q1' between two positions, both closed (put -Q1 to II)");
  CHECK(broken[0].notes[1].text ==
        "from 'generator' to 'grid': '-Q1' between two positions, both closed (put -Q1 to I)");
}

TEST_CASE("break before make: whether it overlaps is asked where the file does not say") {
  const auto all = verdicts(rule, with(rule.example, ", break before make: no", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].missing == "'break before make' of '-Q1'");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("break before make: it breaks as well where no state names the other side") {
  const auto all = verdicts(rule, with(rule.example, "  generator: {-Q1: II}\n", ""));
  CHECK(says(all, Outcome::broken, "-Q1"));
}

TEST_CASE("break before make: both sides from one source may overlap") {
  CHECK(sound(verdicts(rule, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
devices:
  -Q1: {device: changeover I-II 63 A 2P by hand, break before make: no}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A2: {feed: [-Q1, -W4 3×10 mm² 5 m]}
chains:
  - [A1, -F1 C32 2P, -Q1:I]
  - [A1, -F2 C32 2P, -Q1:II]
states:
  grid: {-Q1: I}
  other feed: {-Q1: II, kind: grid}
)")));
}

TEST_CASE("break before make: an overlap that is meant is another rule's") {
  CHECK(silent(verdicts(rule, with(rule.example, "break before make: no",
                                   "closed transition: {synchronism check: yes}"))));
}

}  // namespace
}  // namespace linewright::tests
