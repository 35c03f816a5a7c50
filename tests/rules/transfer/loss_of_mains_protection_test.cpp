#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule loss_of_mains_protection;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::loss_of_mains_protection;

std::string sound_site() {
  return with(rule.example, "after: 5 s", "after: 20 s");
}

TEST_CASE("loss of mains: code, certificate and settings of the country hold") {
  CHECK(sound(verdicts(rule, sound_site())));
}

TEST_CASE("loss of mains: coming back too soon is told with both times, the limit itself holds") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "'-T1': reconnects after 5 s, must be at least 20 s");
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "after: 20 s", "after: 19.9 s"))).size() ==
        1);
}

TEST_CASE("loss of mains: limits laxer than the country's are told, tighter ones are not") {
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "184 V", "183 V"))).size() == 1);
  CHECK(sound(verdicts(rule, with(sound_site(), "184 V", "185 V"))));
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "within 20 s", "within 21 s"))).size() == 1);
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "52 Hz", "52.1 Hz"))).size() == 1);
}

TEST_CASE("loss of mains: another country's code is told") {
  const auto broken =
      broken_ones(verdicts(rule, with(sound_site(), "code: G98", "code: VDE-AR-N 4105")));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "'-T1' is made for VDE-AR-N 4105, this country asks for G98, G99");
}

// 3.68 kVA at 230 V are 16 A; 3.7 kVA are 16.1 A.
TEST_CASE("loss of mains: the code for small plants ends at sixteen amperes a phase") {
  CHECK(sound(verdicts(rule, with(sound_site(), "3.6 kVA", "3.68 kVA"))));
  const auto broken = broken_ones(verdicts(rule, with(sound_site(), "3.6 kVA", "3.7 kVA")));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "'-T1' gives 16.1 A a phase, G98 ends at 16 A");
  CHECK(sound(
      verdicts(rule, with(with(sound_site(), "3.6 kVA", "3.7 kVA"), "code: G98", "code: G99"))));
}

TEST_CASE("loss of mains: what is not said is asked by its key") {
  const auto bare = open_ones(verdicts(
      rule, with(with(sound_site(), ", reconnects after: 20 s", ""), "certificate: TC-1, ", "")));
  REQUIRE(bare.size() == 2);
  CHECK(bare[0].missing == "'certificate' under 'protection' of '-T1'");
  CHECK(bare[1].missing == "'reconnects after' under 'protection' of '-T1'");
}

// 31 kVA: above 30 kVA Germany asks for a relay outside.
TEST_CASE("loss of mains: above the country's power a relay outside is wanted") {
  const std::string big = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
profile: DE
inverters:
  -T1:
    kind: pv
    power: 31 kVA
    grid code: VDE-AR-N 4105
    protection: {certificate: TC-1, undervoltage: 184 V within 3 s, overvoltage: 264 V within 0.1 s, underfrequency: 47.5 Hz within 0.1 s,
      overfrequency: 51.5 Hz within 0.1 s, detects island in: 2 s, reconnects after: 60 s, external relay: no}
boards:
  +A1: {feed: [supply, -W1 5×16 mm² 3 m]}
chains:
  - [-T1:ac, -W2 5×10 mm² 9 m, -F1 B63 4P, A1]
)";
  CHECK(broken_ones(verdicts(rule, big)).size() == 1);
  CHECK(sound(verdicts(rule, with(big, "relay: no", "relay: yes"))));
  CHECK(sound(verdicts(rule, with(big, "31 kVA", "30 kVA"))));
  CHECK(open_ones(verdicts(rule, with(big, ", external relay: no", ""))).size() == 1);
}

TEST_CASE("loss of mains: an inverter that never meets the supply is not asked") {
  CHECK(silent(verdicts(rule, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: battery, grid: forming, bond: always closed}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1: {feed: [-Q1, -W4 3×10 mm² 5 m]}
chains:
  - [supply, -Q1:I]
  - [-T1:ac, -Q1:II]
states:
  grid: {-Q1: I, running: [supply]}
  island: {-Q1: II, running: [-T1]}
)")));
}

}  // namespace
}  // namespace linewright::tests
