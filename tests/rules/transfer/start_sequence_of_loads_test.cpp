#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule start_sequence_of_loads;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::start_sequence_of_loads;

// 1.1 kW · 5 = 5.5 kVA, over half of 10 kVA; 1.0 kW · 5 = 5 kVA is just half.
TEST_CASE("start sequence: one load over half the surge is told, half of it is not") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "'Pump' starts with 5.5 kVA, over half the surge of 10 kVA");
  CHECK(sound(verdicts(rule, with(rule.example, "1.1 kW", "1 kW"))));
}

TEST_CASE("start sequence: held back, shed, or on a drive it does not start at once") {
  CHECK(sound(verdicts(
      rule, with(rule.example, "start factor: 5", "start factor: 5, starts after: 20 s"))));
  CHECK(sound(verdicts(
      rule, with(rule.example, "start factor: 5", "start factor: 5, shed in island: yes"))));
  CHECK(sound(verdicts(rule, with(rule.example, "start factor: 5", "drive: yes"))));
}

// 1 kW · 5 + 5 kW = 10 kVA are the surge; 5.1 kW are over it.
TEST_CASE("start sequence: the sum of what starts at once stays within the surge") {
  const std::string full = with(with(rule.example, "1.1 kW", "1 kW"), "load: 1 kW, use: lighting",
                                "load: 5 kW, use: lighting");
  CHECK(sound(verdicts(rule, full)));
  const auto over =
      broken_ones(verdicts(rule, with(full, "5 kW, use: lighting", "5.1 kW, use: lighting")));
  REQUIRE(over.size() == 1);
  CHECK(over[0].notes.size() == 2);
}

TEST_CASE("start sequence: what is not said is asked by its key") {
  CHECK(open_ones(verdicts(rule, with(rule.example, ", start factor: 5", ""))).size() == 1);
  CHECK(open_ones(verdicts(rule, with(rule.example, ", surge: 10 kVA for 5 s", ""))).size() == 1);
  CHECK(open_ones(verdicts(rule, with(rule.example, "load: 1 kW, ", ""))).size() == 1);
}

TEST_CASE("start sequence: a site that never runs on inverters is not asked") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
                        "boards: {+A1: {feed: [supply, -W1 3×16 mm² 3 m]}}\n")));
}

}  // namespace
}  // namespace linewright::tests
