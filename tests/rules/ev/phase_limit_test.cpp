#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule phase_limit;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::phase_limit, yaml, profile);
}

constexpr std::string_view street = R"(
profile: DE
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Car, device: C40 1P+N 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 4.6 kW, phase: L1, charging: {points: 1}}
      - {id: -F2, name: Second car, device: C40 4P 30 mA type B 6 kA, cable: 5×6 mm² 20 m, use: EV, load: 11 kW, charging: {points: 1}}
states:
  grid: {}
)";

TEST_CASE("phase limit: 4.6 kVA on one phase holds in Germany, 4.7 kVA is found") {
  CHECK(sound(judged(street)));
  const auto all = judged(
      with(with(street, "load: 4.6 kW", "load: 4.7 kW"), "points: 1", "limits unbalance: no"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Car' takes 4.7 kW on one phase, must be 4.6 kVA or less");
  CHECK(broken_ones(judged(rules::phase_limit.example)).size() == 1);
}

TEST_CASE("phase limit: a charge point that evens out may take more") {
  CHECK(sound(judged(
      with(with(street, "load: 4.6 kW", "load: 7.4 kW"), "points: 1", "limits unbalance: yes"))));
}

TEST_CASE("phase limit: a load or a limiter that is not given is open") {
  CHECK(open_ones(judged(with(street, "load: 4.6 kW, ", ""))).front().missing == "'load' of 'Car'");
  CHECK(open_ones(judged(with(street, "load: 4.6 kW", "load: 7.4 kW"))).front().missing ==
        "'limits unbalance' under 'charging' of 'Car'");
}

TEST_CASE("phase limit: several small ones on one phase are found together, shared out they hold") {
  const auto two = with(
      street, "device: C40 4P 30 mA type B 6 kA, cable: 5×6 mm² 20 m, use: EV, load: 11 kW",
      "device: C40 1P+N 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 3.7 kW, phase: L1");
  const auto all = judged(two);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "charge points differ by 8.3 kVA between phases, must be 4.6 kVA or less");
  CHECK(broken_ones(all).front().notes.size() == 2);
  CHECK(sound(judged(with(two, "load: 3.7 kW, phase: L1", "load: 3.7 kW, phase: L2"))));
}

TEST_CASE("phase limit: a connection of one phase has no phases that differ") {
  const auto one =
      with(with(with(with(street, "3/N/PE 230/400 V", "1/N/PE 230 V"), "5×16 mm²", "3×16 mm²"),
                "63 A 4P", "63 A 2P"),
           "load: 4.6 kW, phase: L1", "load: 7.4 kW");
  CHECK(silent(judged(with(one, "C40 4P 30 mA type B 6 kA, cable: 5×6 mm²",
                           "C40 2P 30 mA type B 6 kA, cable: 3×6 mm²"))));
}

TEST_CASE("phase limit: a country without such a limit asks nothing") {
  const auto large = with(street, "load: 4.6 kW", "load: 7.4 kW");
  CHECK(silent(judged(large, "GB")));
  CHECK(open_ones(judged(large, "FR")).size() == 1);
}

}  // namespace
}  // namespace linewright::tests
