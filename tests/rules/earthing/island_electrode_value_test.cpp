#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule island_electrode_value;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::island_electrode_value, yaml, profile);
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

// The example: RCDs of 100 mA and 30 mA in series; of each loop the more sensitive one is relied
// on, so 50 V / 30 mA = 1666.7 ohm. The French guide value is 100 ohm.
TEST_CASE("electrode value: in a TT island the guide value binds, at its border it holds") {
  const std::string_view site = rules::island_electrode_value.example;
  const auto above = judged(site);
  REQUIRE(broken_ones(above).size() == 1);
  CHECK(broken_ones(above).front().element == "-XE1");
  CHECK_FALSE(broken_ones(above).front().severity.has_value());
  CHECK(sound(judged(with(site, "120 ohm", "100 ohm"))));
  CHECK_FALSE(sound(judged(with(site, "120 ohm", "100.1 ohm"))));
}

TEST_CASE("electrode value: without a guide value the product of resistance and current decides") {
  // Only the 100 mA RCD left: 50 V / 100 mA = 500 ohm.
  const auto site =
      with(rules::island_electrode_value.example, "B16 2P 30 mA type A two-way", "B16 2P two-way");
  CHECK(sound(judged(with(site, "120 ohm", "500 ohm"), "international")));
  const auto above = judged(with(site, "120 ohm", "501 ohm"), "international");
  REQUIRE(broken_ones(above).size() == 1);
  CHECK(broken_ones(above).front().message.find("501 Ω, must be at most 500 Ω") !=
        std::string::npos);
}

TEST_CASE("electrode value: a missing resistance is open and named") {
  const auto all = judged(with(rules::island_electrode_value.example, "-XE1: 120 ohm", "-XE1: {}"));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-XE1", "island"));
}

TEST_CASE("electrode value: two rods side by side are one of less resistance") {
  // 120 and 120 ohm in parallel are 60 ohm.
  CHECK(sound(judged(with(rules::island_electrode_value.example, "-XE1: 120 ohm",
                          "-XE1: 120 ohm, -XE3: 120 ohm"))));
}

TEST_CASE("electrode value: a known good rod is enough beside one of unknown resistance") {
  CHECK(sound(judged(
      with(rules::island_electrode_value.example, "-XE1: 120 ohm", "-XE1: 99 ohm, -XE3: {}"))));
}

TEST_CASE("electrode value: in a TN island a poor rod is advice, for the loop does without it") {
  const auto poor = judged(with(hybrid, "20 ohm", "201 ohm"), "GB");
  REQUIRE(broken_ones(poor).size() == 1);
  CHECK(broken_ones(poor).front().severity == Severity::advice);
  CHECK(sound(judged(with(hybrid, "20 ohm", "200 ohm"), "GB")));
}

TEST_CASE("electrode value: the same rod of a TT house is left to the rule for TT") {
  CHECK(silent(judged(with(with(hybrid, "20 ohm", "201 ohm"), "TN-S", "TT"), "GB")));
}

TEST_CASE("electrode value: on the grid it says nothing") {
  CHECK(judged(with(with(hybrid, "20 ohm", "900 ohm"), "  island: {running: [-T1]}\n", ""), "GB")
            .empty());
}

}  // namespace
}  // namespace linewright::tests
