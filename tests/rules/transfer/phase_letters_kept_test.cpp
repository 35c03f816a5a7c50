#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule phase_letters_kept;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::phase_letters_kept;

TEST_CASE("phase letters: lines that change places are told at the cable, with the circuits") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-W1");
  CHECK(broken[0].message == "'-W1' crosses L1 L3 on the way to 'Oven'");
}

TEST_CASE("phase letters: crossed twice is straight again") {
  CHECK(
      sound(verdicts(rule, with(rule.example, "3 m crossed L1 L3]",
                                "3 m crossed L1 L3, -X1 link, -W2 5×16 mm² 2 m crossed L1 L3]"))));
}

TEST_CASE("phase letters: a straight site is not asked") {
  CHECK(silent(verdicts(rule, with(rule.example, " crossed L1 L3", ""))));
}

TEST_CASE("phase letters: lines crossed for one source only are the business of rotation") {
  const std::string one_side = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 15 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 4P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 5×10 mm² 5 m]
    circuits:
      - {name: Pump, device: C16 4P 30 mA type A, cable: 5×2.5 mm² 12 m, load: 4 kW, use: motor}
chains:
  - [supply, -Q1:I]
  - [-G2, -W2 5×6 mm² 9 m crossed L1 L2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";
  CHECK(broken_ones(verdicts(rule, one_side)).empty());
}

constexpr const char* tied = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes, lines tied: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 4P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 5×10 mm² 5 m]
    circuits: [{name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

TEST_CASE("phase letters: one line on three over a shared neutral is told at the source") {
  const auto broken = broken_ones(verdicts(rule, tied));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-G2");
  CHECK(broken[0].notes.size() == 1);
  CHECK(silent(verdicts(rule, with(tied, ", lines tied: yes", ""))));
}

TEST_CASE("phase letters: tied lines that no cable shares a neutral for hold") {
  CHECK(sound(verdicts(rule, with(tied, "[-Q1, -W4 5×10 mm² 5 m]", "[-Q1]"))));
}

}  // namespace
}  // namespace linewright::tests
