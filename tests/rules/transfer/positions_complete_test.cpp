#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule positions_complete;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::positions_complete;

std::string changeover(std::string_view words, std::string_view facts,
                       std::string_view generator_chain = "[-G2, -Q1:II]",
                       std::string_view states = "  grid: {-Q1: I}\n  generator: {-Q1: II}\n") {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 5 kVA, neutral: linked, fixed: yes}\n"
         "devices:\n"
         "  -Q1: {device: changeover " +
         std::string(words) + " 63 A 2P" + std::string(facts) +
         "}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [-Q1, -W4 3×10 mm² 5 m]\n"
         "chains:\n"
         "  - [supply, -F0 C63 2P, -Q1:I]\n"
         "  - " +
         std::string(generator_chain) +
         "\n"
         "states:\n" +
         std::string(states);
}

TEST_CASE("positions complete: without off and without main switches it is broken") {
  CHECK(says(verdicts(rule, rule.example), Outcome::broken, "-Q1"));
}

TEST_CASE("positions complete: I-0-II moved by hand and used on both sides is complete") {
  CHECK(sound(verdicts(rule, changeover("I-0-II", " by hand"))));
}

TEST_CASE("positions complete: a main switch on each side stands in for the off position") {
  CHECK(says(verdicts(rule, changeover("I-II", " by hand")), Outcome::broken, "-Q1"));
  CHECK(sound(verdicts(rule, changeover("I-II", " by hand", "[-G2, -F9 C32 2P, -Q1:II]"))));
}

TEST_CASE("positions complete: a changeover of which nobody says who moves it is open") {
  const auto all = verdicts(rule, changeover("I-0-II", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].missing.find("'operated'") != std::string::npos);
}

TEST_CASE("positions complete: a controlled one must say where it stands without power") {
  CHECK(says(verdicts(rule, changeover("I-0-II", ", operated: controller")), Outcome::open, "-Q1"));
  CHECK(sound(verdicts(rule, changeover("I-0-II", ", operated: controller, without power: 0"))));
}

TEST_CASE("positions complete: a side that no state uses is open") {
  const auto all = verdicts(rule, changeover("I-0-II", " by hand", "[-G2, -Q1:II]",
                                             "  grid: {-Q1: I}\n  off: {-Q1: 0}\n"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].missing.find("-Q1: II") != std::string::npos);
}

TEST_CASE("positions complete: a site without changeover is not judged") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
                        "boards:\n  +A1:\n    feed: [supply, -Q1 switch 63 A 2P]\n")));
}

TEST_CASE("positions: a switch that rests open and that no state closes is open") {
  constexpr std::string_view bypass = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [A1, -W2 3×6 mm² 3 m]}
chains:
  - [A1, -Q5 switch-disconnector 63 A 2P by hand normally open, -W3 3×6 mm² 3 m, A2]
states:
  grid: {}
)";
  const auto open = open_ones(verdicts(rules::positions_complete, bypass));
  REQUIRE(open.size() == 1);
  CHECK(open.front().missing == "a state with '-Q5: closed'");
  CHECK(
      sound(verdicts(rules::positions_complete,
                     with(bypass, "grid: {}", "grid: {}\n  round: {kind: bypass, -Q5: closed}"))));
}

}  // namespace
}  // namespace linewright::tests
