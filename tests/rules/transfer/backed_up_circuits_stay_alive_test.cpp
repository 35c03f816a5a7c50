#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule backed_up_circuits_stay_alive;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::backed_up_circuits_stay_alive;

constexpr std::string_view mixed = "use: fixed, service: backup}";

TEST_CASE("backed-up circuits: one on the board of the grid is dead in island") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-E1");
  CHECK(states_with(all, Outcome::broken) == "island");
}

TEST_CASE("backed-up circuits: promised normal, it may be dead") {
  CHECK(sound(verdicts(rule, with(rule.example, mixed, "use: fixed, service: normal}"))));
}

TEST_CASE("backed-up circuits: shed in island, it may be dead there") {
  CHECK(sound(verdicts(
      rule, with(rule.example, mixed, "use: fixed, service: backup, shed in island: yes}"))));
}

TEST_CASE("backed-up circuits: what a whole board loses is one finding at the board") {
  const std::string site = with(rule.example, "feed: [-T1:backup, -W3", "feed: [A1, -W3") +
                           "  bypass: {running: [supply]}\n";
  const std::string two = with(site, "      - {id: -F31,",
                               "      - {id: -F32, name: Pump, device: B16 2P, cable: 3×2.5 mm² 9 "
                               "m, use: fixed}\n      - {id: -F31,");
  const auto all = verdicts(rule, two);
  CHECK(says(all, Outcome::broken, "+A3", "island"));
  CHECK(says(all, Outcome::holds, "-E2", "bypass"));
}

TEST_CASE("backed-up circuits: a switch whose position is not said is open") {
  const std::string site = with(with(with(rule.example, mixed, "use: fixed}"),
                                     "feed: [-T1:backup, -W3 3×6 mm² 5 m]", "feed: [-Q1]"),
                                "chains:\n",
                                "devices:\n  -Q1: changeover I-II 40 A 2P by hand\nchains:\n"
                                "  - [-T1:backup, -W3 3×6 mm² 5 m, -Q1:I]\n");
  const auto all = verdicts(rule, site);
  CHECK(says(all, Outcome::open, "-E2", "island"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("backed-up circuits: in a state that is off nothing has to be alive") {
  const std::string site = with(rule.example, mixed, "use: fixed}");
  CHECK(sound(verdicts(rule, site + "  off: {running: []}\n")));
}

}  // namespace
}  // namespace linewright::tests
