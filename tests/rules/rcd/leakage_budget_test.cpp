#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule leakage_budget;
}

namespace linewright::tests {
namespace {

std::string board(const std::string& rcd, const std::string& circuits) {
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nboards:\n"
         "  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P " +
         rcd + " type A]\n    circuits:\n" + circuits + "states:\n  grid: {}\n";
}

std::string circuit(const std::string& keys) {
  return "      - {device: B16 1P+N, cable: 3×2.5 mm², " + keys + "}\n";
}

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::leakage_budget, yaml, profile);
}

TEST_CASE("leakage budget: 9 mA behind 30 mA hold, 9.1 mA do not") {
  CHECK(sound(ask(board("30 mA", circuit("leakage: 4 mA") + circuit("leakage: 5 mA")))));
  const auto all = ask(board("30 mA", circuit("leakage: 4 mA") + circuit("leakage: 5.1 mA")));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  // 0.3 × 30 mA = 9 mA
  CHECK(broken_ones(all).front().message == "9.1 mA leak behind '-F10', must be 9 mA or less");
  CHECK_FALSE(broken_ones(all).front().severity);
}

TEST_CASE("leakage budget: too much only by usual values is advice") {
  // 3 heat pumps of usually 3.5 mA = 10.5 mA against 9 mA
  std::string three;
  for (int i = 0; i < 3; ++i)
    three += circuit("use: heat pump");
  const auto all = ask(board("30 mA", three));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
  CHECK(broken_ones(all).front().message ==
        "10.5 mA usually leak behind '-F10', must be 9 mA or less");
}

TEST_CASE("leakage budget: long cables count in the usual values") {
  // 900 m at 1 mA a 100 m, and 1 mA of an appliance: 10 mA
  const auto all =
      ask(board("30 mA", "      - {device: B16 1P+N, cable: 3×2.5 mm² 900 m, use: fixed}\n"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::advice);
}

TEST_CASE("leakage budget: a rated residual current that is missing is open, not a pass") {
  const auto all = ask(board("", circuit("leakage: 1 mA")));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "residual operating current of '-F10' (device: … 30 mA)");
}

TEST_CASE("leakage budget: circuits with RCDs of their own are no sum, but for the one above") {
  const std::string own = circuit("leakage: 6 mA, id: -F1, name: A");
  const std::string yaml = board("300 mA", own + circuit("leakage: 6 mA, id: -F2, name: B"));
  CHECK(sound(ask(yaml)));  // 12 mA against 0.3 × 300 mA = 90 mA
}

TEST_CASE("leakage budget: the country's share counts") {
  // a third of 30 mA is 9.9 mA in the table of FR, 30 % are 9 mA
  const std::string yaml = board("30 mA", circuit("leakage: 9.5 mA"));
  CHECK(broken_ones(ask(yaml)).size() == 1);
  CHECK(sound(ask(yaml, "FR")));
}

}  // namespace
}  // namespace linewright::tests
