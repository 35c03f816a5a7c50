#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule phase_rotation_equal;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::phase_rotation_equal;

std::string sound_site() {
  return with(rule.example, "anticlockwise", "clockwise");
}

TEST_CASE("phase rotation: sources that turn the same way hold, and the test record asks") {
  const auto all = verdicts(rule, sound_site());
  CHECK(sound(all));
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all)[0].expected == "the same on both");
}

TEST_CASE("phase rotation: a set that turns the other way is told at the set, with the load") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-G2");
  CHECK(broken[0].notes.size() == 1);
}

// One exchange of two lines turns the order; the same set behind it is right again.
TEST_CASE("phase rotation: crossed cores count, one pair on one side") {
  CHECK(sound(verdicts(rule, with(rule.example, "9 m, -Q1:II", "9 m crossed L1 L2, -Q1:II"))));
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "9 m, -Q1:II", "9 m crossed L2 L3, -Q1:II")))
            .size() == 1);
}

TEST_CASE("phase rotation: cores crossed behind the changeover turn both alike") {
  CHECK(sound(
      verdicts(rule, with(sound_site(), "-W4 5×10 mm² 5 m", "-W4 5×10 mm² 5 m crossed L1 L2"))));
}

TEST_CASE("phase rotation: what is not said is asked by its key") {
  const auto open =
      open_ones(verdicts(rule, with(sound_site(), ", fixed: yes, rotation: clockwise", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'rotation' of '-G2'");
}

TEST_CASE("phase rotation: single-phase loads do not mind") {
  CHECK(silent(verdicts(rule, with(rule.example, "C16 4P 30 mA type A, cable: 5×2.5 mm²",
                                   "C16 1P+N 30 mA type A, cable: 3×2.5 mm²"))));
}

}  // namespace
}  // namespace linewright::tests
