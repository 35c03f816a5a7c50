#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule lines_from_one_set;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::lines_from_one_set;
const std::string all_run = "running: [-T1, -T2, -T3]";

TEST_CASE("lines from one set: three inverters that nothing holds in step are a danger") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(states_with(all, Outcome::broken) == "island");
  CHECK(broken_ones(all)[0].message.find("'-T1' and '-T2'") != std::string::npos);
}

TEST_CASE("lines from one set: two on two lines are enough, one alone is no second source") {
  CHECK(broken_ones(verdicts(rule, with(rule.example, all_run, "running: [-T1, -T3]"))).size() ==
        1);
  CHECK(sound(verdicts(rule, with(rule.example, all_run, "running: [-T2]"))));
}

TEST_CASE("lines from one set: inverters that are held in step may feed a line each") {
  const std::string site(rule.example);
  CHECK(sound(verdicts(rule, site + "synchronised: [-T1, -T2, -T3]\n")));
  CHECK(broken_ones(verdicts(rule, site + "synchronised: [-T1, -T2]\n")).size() == 1);
}

TEST_CASE("lines from one set: beside a supply that is on every line they follow it") {
  const std::string tied =
      with(rule.example, "states:", "  - [A1, -Q7 switch-disconnector 63 A 4P, -WB2]\nstates:");
  const std::string together = with(tied, "grid: {running: [supply]}",
                                    "grid: {-Q7: closed, running: [supply, -T1, -T2, -T3]}");
  const auto all =
      verdicts(rule, with(together, "{" + all_run, "{-Q1: open, -Q7: closed, " + all_run));
  CHECK(states_with(all, Outcome::broken) == "island");
}

}  // namespace
}  // namespace linewright::tests
