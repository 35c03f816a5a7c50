#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule opens_all_live_conductors;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& earthing, const std::string& poles) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: )" +
         earthing + R"(}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 )" +
         (earthing == "TT" ? "2" : "3") +
         R"(×16 mm² 3 m double insulated, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: RCBO B16 )" +
         poles + R"( 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::opens_all_live_conductors, yaml);
}

TEST_CASE("RCD opens all live conductors: in TT 1P+N and 2P hold, a solid neutral does not") {
  CHECK(sound(ask(house("TT", "1P+N"))));
  CHECK(sound(ask(house("TT", "2P"))));
  const auto all = ask(house("TT", "1P"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1"));
  CHECK(broken_ones(all).front().message == "'-F1' leaves N closed in TT, must open it");
}

TEST_CASE("RCD opens all live conductors: in TN a solid neutral without a source is no fault") {
  CHECK(silent(ask(house("TN-S", "1P"))));
}

TEST_CASE("RCD opens all live conductors: poles that are not given are open, not a pass") {
  const auto all = ask(house("TT", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "poles of '-F1' (device: … 1P+N, 2P, 4P)");
}

TEST_CASE("RCD opens all live conductors: in TN one with a source behind it must open N") {
  const auto site = [](const std::string& poles) {
    return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: battery, power: 3 kVA, battery: {energy: 5 kWh}}
chains:
  - [A1, -F2 C20 )" +
           poles + R"( 30 mA type A two-way, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)";
  };
  CHECK(sound(ask(site("2P"))));
  CHECK(broken_ones(ask(site("1P"))).size() == 1);
}

TEST_CASE(
    "RCD opens all live conductors: a three-pole device without a neutral through it is fine") {
  CHECK(silent(ask(R"(site: {name: Workshop}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 4×16 mm² (L1 L2 L3 N) 3 m double insulated, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Saw, device: C16 3P 30 mA type B, cable: 4×2.5 mm² (L1 L2 L3 PE) 20 m, use: motor}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
