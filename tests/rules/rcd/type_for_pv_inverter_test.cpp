#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule type_for_pv_inverter;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& device, const std::string& inverter) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {power: 3 kVA, )" +
         inverter + R"(}
chains:
  - [A1, -F1 C20 2P )" +
         device + R"( two-way, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)";
}

const std::string pv = "kind: pv, pv: {power: 3 kWp}";

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::type_for_pv_inverter, yaml, profile);
}

TEST_CASE("type for a PV inverter: without separation type B holds and type A does not") {
  const std::string bare = pv + ", separation: none, no dc fault current: no";
  CHECK(sound(ask(house("30 mA type B", bare))));
  const auto all = ask(house("30 mA type A", bare));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK(broken_ones(all).front().message == "'-F1' is type A, must be B for '-T1'");
}

TEST_CASE("type for a PV inverter: separation or the maker's word lets type A pass") {
  CHECK(sound(ask(house("30 mA type A", pv + ", separation: simple"))));
  CHECK(sound(ask(house("30 mA type A", pv + ", separation: transformer"))));
  CHECK(sound(ask(house("30 mA type A", pv + ", separation: none, no dc fault current: yes"))));
  CHECK(sound(ask(house("30 mA type A", pv + ", separation: none, rcd type: A"))));
}

TEST_CASE("type for a PV inverter: the maker's word is a least type") {
  CHECK(sound(ask(house("30 mA type F", pv + ", separation: none, rcd type: F"))));
  CHECK(broken_ones(ask(house("30 mA type A", pv + ", separation: none, rcd type: F"))).size() ==
        1);
}

TEST_CASE("type for a PV inverter: nothing said of separation and maker is open, not a pass") {
  CHECK(open_ones(ask(house("30 mA type A", pv))).size() == 1);
  CHECK(open_ones(ask(house("30 mA type A", pv + ", separation: none"))).size() == 1);
  CHECK(open_ones(ask(house("30 mA", pv + ", separation: none"))).size() == 1);
}

TEST_CASE("type for a PV inverter: no RCD, no PV, or a country that does not ask: nothing to say") {
  CHECK(silent(ask(house("", pv))));
  CHECK(silent(ask(house("30 mA type A", "kind: battery, battery: {energy: 5 kWh}"))));
  CHECK(silent(ask(house("30 mA type A", pv), "AU")));
}

TEST_CASE("type for a PV inverter: the sockets' RCD beside the inverter's way is not asked") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {kind: pv, power: 3 kVA, separation: none, pv: {power: 3 kWp}}
chains:
  - [A1, -F2 C20 2P, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
