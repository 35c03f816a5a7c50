#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule all_conductors_through_one_core;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::all_conductors_through_one_core, yaml);
}

std::string house(const std::string& chains) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
busbars: {-WB1: 63 A, -WB2: 63 A}
boards:
  +A1:
    feed: [-WB2, -Q2 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Cooker, device: B32 1P+N, cable: 3×6 mm² 12 m, use: cooking}
      - {id: -F2, name: Boiler, device: B16 1P+N, cable: 3×2.5 mm² 12 m, use: fixed}
chains:
  - [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P, -WB1]
)" + chains;
}

TEST_CASE("one core: all conductors through one RCD are sound") {
  CHECK(sound(ask(house("  - [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2]\n"))));
}

TEST_CASE("one core: two RCDs side by side are one cause for all circuits behind them") {
  const auto all =
      ask(house("  - [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2]\n"
                "  - [-WB1, -F11 RCD 40 A 2P 30 mA type A, -WB2]\n"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message == "lines of 2 circuits are split over '-F10' and '-F11'");
}

TEST_CASE("one core: lines of a three-phase load through different RCDs") {
  const std::string yaml = R"(site: {name: House}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
busbars: {-WB1: 63 A, -WB2: 63 A}
boards:
  +A1:
    feed: [-WB2, -Q2 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Saw, device: C16 4P, cable: 5×2.5 mm² 12 m, use: motor, drive: no}
chains:
  - [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P, -WB1]
  - {chain: [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2], phase: L1}
  - {chain: [-WB1, -F11 RCD 40 A 2P 30 mA type A, -WB2], phase: L2}
  - {chain: [-WB1, -F12 RCD 40 A 2P 30 mA type A, -WB2], phase: L3}
)";
  const auto all = ask(yaml);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "lines of 'Saw' are split over '-F10', '-F11' and '-F12'");
}

TEST_CASE("one core: a way around both RCDs is not a split, but a way without") {
  CHECK(
      silent(ask(house("  - [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2]\n"
                       "  - [-WB1, -Q5 switch-disconnector 63 A 2P, -WB2]\n"))));
}

TEST_CASE("one core: an RCD that stands open beside the other splits nothing") {
  CHECK(
      sound(ask(house("  - [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2]\n"
                      "  - [-WB1, -F11 RCD 40 A 2P 30 mA type A normally open, -WB2]\n"))));
}

TEST_CASE("one core: without any RCD there is nothing to look at") {
  CHECK(silent(ask(house("  - [-WB1, -Q5 switch-disconnector 63 A 2P, -WB2]\n"))));
}

}  // namespace
}  // namespace linewright::tests
