#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule neutrals_of_backup_and_other_circuits_apart;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::neutrals_of_backup_and_other_circuits_apart, yaml, profile);
}

constexpr std::string_view two_sides = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m]
    circuits:
      - {id: -F11, name: Cooker, device: B32 2P, cable: 3×6 mm² 8 m, use: cooking}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Freezer, device: B16 1P, cable: 3×2.5 mm² 9 m, use: fixed}
      - {id: -F32, name: Boiler, device: B16 1P, cable: 3×2.5 mm² 9 m, use: fixed}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";

std::string borrowed(std::string_view site, std::string_view circuit, std::string_view device) {
  const std::string at = std::string("name: ") + std::string(circuit) +
                         ", device: B16 1P, cable: 3×2.5 mm² 9 m, use: fixed";
  return with(site, at, at + ", neutral from: " + std::string(device));
}

TEST_CASE("neutrals apart: line and neutral of one board hold") {
  CHECK(sound(judged(two_sides)));
}

TEST_CASE("neutrals apart: a neutral on the other board is found, by this rule alone") {
  const std::string_view yaml = rules::neutrals_of_backup_and_other_circuits_apart.example;
  const auto all = judged(yaml);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Freezer': line from the side of '-T1', neutral from that of the supply");
  CHECK(rules_broken(report_on(yaml)) == "earthing/neutrals-of-backup-and-other-circuits-apart");
}

TEST_CASE("neutrals apart: several on the same wrong bar are one finding that names them") {
  const auto all = judged(borrowed(borrowed(two_sides, "Freezer", "-F11"), "Boiler", "-F11"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().notes.size() == 2);
}

TEST_CASE("neutrals apart: a normal circuit on the backup's neutral is found as well") {
  const auto site = with(borrowed(two_sides, "Freezer", "-F11"), ", neutral from: -F11", "");
  const auto other = with(site, "device: B32 2P, cable: 3×6 mm² 8 m, use: cooking",
                          "device: B32 1P, cable: 3×6 mm² 8 m, use: cooking, neutral from: -F31");
  const auto all = judged(other);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Cooker': line from the side of the supply, neutral from that of '-T1'");
}

TEST_CASE("neutrals apart: neutrals mixed on one side are the RCD rule's") {
  const auto all = judged(borrowed(two_sides, "Freezer", "-F32"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("neutrals apart: where the neutral stays joined there are no sides") {
  CHECK(silent(
      judged(borrowed(with(two_sides, "neutral in island: opened", "neutral in island: joined"),
                      "Freezer", "-F11"),
             "AU")));
}

TEST_CASE("neutrals apart: what an inverter does with its neutral may be unknown") {
  // Its inner contact may lead the neutral through: then both boards have the same one.
  const auto site = borrowed(with(two_sides, "neutral in island: opened, ", ""), "Freezer", "-F11");
  CHECK(says(judged(site), Outcome::broken, "-E2"));
}

TEST_CASE("neutrals apart: an inverter that leads the neutral through makes one side of two") {
  CHECK(sound(
      judged(borrowed(with(two_sides, "neutral in island: opened", "neutral in island: joined"),
                      "Freezer", "-F11"))));
}

}  // namespace
}  // namespace linewright::tests
