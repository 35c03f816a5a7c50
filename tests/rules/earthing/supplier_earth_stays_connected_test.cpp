#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule supplier_earth_stays_connected;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::supplier_earth_stays_connected, yaml, profile);
}

constexpr std::string_view contactor = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
devices:
  -K1: contactor 63 A normally closed
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
chains:
  - [supply, -W2 1×16 mm² (PE) 5 m, -K1, A1]
states:
  grid: {}
)";

TEST_CASE("supplier's earth: led through without a switch it holds") {
  CHECK(sound(judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q1 switch-disconnector 63 A 2P]}
states:
  grid: {}
)")));
}

TEST_CASE("supplier's earth: a contactor in it is found, by this rule alone") {
  const auto all = judged(contactor);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-K1");
  CHECK(broken_ones(all).front().message ==
        "'-K1' can part the main earthing terminal from the supplier's earth");
  CHECK(rules_broken(report_on(contactor)) == "earthing/supplier-earth-stays-connected");
}

TEST_CASE("supplier's earth: a link that needs a tool may stand there") {
  CHECK(sound(judged(with(contactor, "contactor 63 A normally closed", "link 63 A"))));
}

TEST_CASE("supplier's earth: a switch in a sub-board's earth is another rule's") {
  const auto site = with(
      with(contactor, "2×16 mm² 5 m]}", "3×16 mm² 5 m]}\n  +A2: {feed: [A1, -W3 2×10 mm² 9 m]}"),
      "[supply, -W2 1×16 mm² (PE) 5 m, -K1, A1]", "[A1, -W2 1×10 mm² (PE) 9 m, -K1, A2]");
  CHECK(broken_ones(judged(site)).empty());
  CHECK(rules_broken(report_on(site)) == "earthing/never-switch-protective-conductor");
}

TEST_CASE("supplier's earth: an electrode behind a switch is found as well") {
  // The rod stands at the generator; the way to it leads through -K1.
  const auto all = judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE2: {resistance: 20 ohm, at: -G2}}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 2P by hand
  -K1: contactor 63 A normally closed
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 2×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 2×10 mm² 20 m, -Q1:II]
  - [-G2, -W3 1×10 mm² (PE) 20 m, -K1, A1]
states:
  grid: {-Q1: I}
)");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'-K1' can part the main earthing terminal from electrode '-XE2'");
}

TEST_CASE("supplier's earth: one that is not used at all switches nothing") {
  CHECK(sound(judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}, supplier earth: disconnected}
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
