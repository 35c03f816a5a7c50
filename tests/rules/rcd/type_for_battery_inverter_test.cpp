#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule type_for_battery_inverter;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::type_for_battery_inverter, yaml, profile);
}

/// A battery inverter behind -F1, without a backup side.
std::string ahead(const std::string& rcd, const std::string& keys) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: battery, grid: following, power: 3 kVA, battery: {energy: 5 kWh}, )" +
         keys + R"(}
chains:
  - [A1, -F1 C20 2P )" +
         rcd + R"( two-way, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)";
}

/// A hybrid that feeds two circuits in island.
std::string island(const std::string& keys, const std::string& second = "type A") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, use: sockets}
      - {id: -F2, name: Light, device: B6 1P+N 30 mA )" +
         second + R"(, cable: 3×1.5 mm² 12 m, use: lighting}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 3 kVA, battery: {energy: 5 kWh}, pv: {power: 3 kWp}, bond: closes in island, neutral in island: opened, )" +
         keys + R"(}
chains:
  - [A1, -F9 C20 2P two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";
}

TEST_CASE("type for a battery inverter: without separation type B holds and type A does not") {
  const std::string bare = "separation: none, no dc fault current: no";
  CHECK(sound(ask(ahead("30 mA type B", bare))));
  const auto all = ask(ahead("30 mA type A", bare));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK(broken_ones(all).front().message == "'-F1' is type A, must be B for '-T1'");
}

TEST_CASE("type for a battery inverter: the maker's word is a least type") {
  CHECK(sound(ask(ahead("30 mA type F", "separation: none, rcd type: F"))));
  CHECK(broken_ones(ask(ahead("30 mA type A", "separation: none, rcd type: F"))).size() == 1);
}

TEST_CASE("type for a battery inverter: nothing said is open, not a pass") {
  const auto all = ask(ahead("30 mA type A", "separation: none"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing ==
        "what the maker of '-T1' declares (no dc fault current, rcd type)");
}

TEST_CASE("type for a battery inverter: what it feeds in island is one cause at the inverter") {
  const auto all = ask(island("separation: none, no dc fault current: no"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-T1", "island"));
  CHECK(broken_ones(all).front().notes.size() == 2);
}

TEST_CASE(
    "type for a battery inverter: the maker's word for island counts there, that for the "
    "grid does not") {
  CHECK(open_ones(ask(island("separation: none, rcd type: A"))).size() == 1);
  CHECK(sound(ask(island("separation: none, island rcd type: A"))));
  CHECK(broken_ones(ask(island("separation: none, island rcd type: F"))).size() == 1);
  const auto one = ask(island("separation: none, island rcd type: F", "type F"));
  CHECK(says(one, Outcome::broken, "-F1", "island"));
}

TEST_CASE("type for a battery inverter: a transformer lets every type pass") {
  CHECK(sound(ask(island("separation: transformer"))));
}

TEST_CASE("type for a battery inverter: a country that does not ask for it is not asked") {
  CHECK(silent(ask(ahead("30 mA type A", "separation: none"), "AU")));
}

}  // namespace
}  // namespace linewright::tests
