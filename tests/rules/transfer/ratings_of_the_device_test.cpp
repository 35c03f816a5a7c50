#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule ratings_of_the_device;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::ratings_of_the_device;

std::string sound_site() {
  return with(rule.example, "fuse: 80 A gG", "fuse: 63 A gG");
}

TEST_CASE("ratings: current, category and short circuit that fit hold") {
  CHECK(sound(verdicts(rule, sound_site())));
}

TEST_CASE("ratings: a feed larger than the transfer is told with both currents") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "'-Q1' carries 63 A, '-F0' ahead lets 80 A through");
  CHECK(sound(verdicts(rule, with(rule.example, "I-0-II 63 A", "I-0-II 80 A"))));
}

TEST_CASE("ratings: motors want AC-33, other loads are content with AC-32") {
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "AC-33", "AC-32"))).size() == 1);
  CHECK(sound(
      verdicts(rule, with(with(sound_site(), "AC-33", "AC-32"), "use: motor", "use: fixed"))));
  CHECK(broken_ones(verdicts(rule, with(with(sound_site(), "AC-33", "AC-31"), "use: motor",
                                        "use: lighting")))
            .size() == 1);
}

TEST_CASE("ratings: what is not said is asked by its key") {
  CHECK(open_ones(verdicts(rule, with(sound_site(), ", category: AC-33", ""))).size() == 1);
  const auto open = open_ones(verdicts(rule, with(sound_site(), ", withstands: 5 kA", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'withstands' of '-Q1'");
  CHECK(open_ones(verdicts(rule, with(sound_site(), ", fault current: 5 kA", ""))).size() == 1);
}

TEST_CASE("ratings: less than the supply drives at its terminals is open, not a finding") {
  const auto all = verdicts(rule, with(sound_site(), "withstands: 5 kA", "withstands: 4.9 kA"));
  CHECK(broken_ones(all).empty());
  CHECK(open_ones(all).size() == 1);
}

TEST_CASE("ratings: a changeover between two feeds of one source is no transfer") {
  CHECK(silent(verdicts(rule, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 80 A gG}
devices:
  -Q1: {device: changeover I-0-II 16 A 2P by hand}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A2: {feed: [-Q1, -W4 3×10 mm² 5 m]}
chains:
  - [A1, -Q1:I]
  - [A1, -Q1:II]
states:
  grid: {-Q1: I}
)")));
}

}  // namespace
}  // namespace linewright::tests
