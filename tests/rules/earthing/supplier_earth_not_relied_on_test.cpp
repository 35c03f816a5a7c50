#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule supplier_earth_not_relied_on;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::supplier_earth_not_relied_on, yaml, profile);
}

constexpr std::string_view hybrid = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("own electrode: a rod on the main earthing terminal holds") {
  const auto all = judged(hybrid);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "island");
}

TEST_CASE(
    "own electrode: without one the finding is a breach where the loop is closed over metal") {
  const auto all = judged(with(hybrid, "{electrodes: {-XE1: 20 ohm}}", "{}"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::breach);
  CHECK(broken_ones(all).front().state == "island");
}

TEST_CASE("own electrode: it is a danger where the fault comes home over the supplier's earth") {
  const auto all = judged(rules::supplier_earth_not_relied_on.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK_FALSE(broken_ones(all).front().severity.has_value());
}

TEST_CASE("own electrode: a rod of unknown resistance is a rod") {
  CHECK(sound(judged(with(hybrid, "-XE1: 20 ohm", "-XE1: {}"))));
}

TEST_CASE("own electrode: a supply of unknown earthing and no rod is open") {
  const auto all =
      judged(with(with(hybrid, "{electrodes: {-XE1: 20 ohm}}", "{}"), ", earthing: TN-S", ""));
  CHECK(broken_ones(all).empty());
  CHECK(states_with(all, Outcome::open) == "island");
}

TEST_CASE("own electrode: a TT site owns its electrode and is not asked") {
  CHECK(silent(judged(with(hybrid, "TN-S", "TT"))));
}

TEST_CASE("own electrode: a site that never leaves the grid is not asked") {
  CHECK(silent(judged(with(with(hybrid, "{electrodes: {-XE1: 20 ohm}}", "{}"),
                           "  island: {running: [-T1]}\n", ""))));
}

}  // namespace
}  // namespace linewright::tests
