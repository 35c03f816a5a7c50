#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule only_backed_up_circuits_in_island;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::only_backed_up_circuits_in_island;

TEST_CASE("only backed-up circuits: one that is promised normal is alive in island") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-E2");
  CHECK(broken_ones(all)[0].message == "'Cooker' is not promised backup but alive in island");
}

TEST_CASE("only backed-up circuits: promised backup, or nothing at all, is not judged") {
  CHECK(silent(verdicts(rule, with(rule.example, ", service: normal", ""))));
  CHECK(silent(verdicts(
      rule, with(with(rule.example, ", service: normal", ""), "    service: backup\n", ""))));
}

TEST_CASE("only backed-up circuits: ahead of the transfer a normal circuit is dead in island") {
  CHECK(sound(verdicts(rule, with(with(rule.example, "-W3 3×6 mm² 5 m]", "-W3 3×6 mm² 5 m]"),
                                  "feed: [-T1:backup, -W3", "feed: [A1, -W3"))));
}

TEST_CASE("only backed-up circuits: several of one board are one finding at the board") {
  const auto all = verdicts(rule, with(with(rule.example, ", service: normal", ""),
                                       "service: backup", "service: direct"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "+A3");
  CHECK(broken_ones(all)[0].notes.size() == 2);
}

TEST_CASE("only backed-up circuits: on the generator more may be alive") {
  const std::string island(rule.example);
  CHECK(silent(verdicts(rule, with(island, "island: {running", "generator: {running"))));
}

}  // namespace
}  // namespace linewright::tests
