#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_upstream_of_every_rcd;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_upstream_of_every_rcd, yaml, profile);
}

constexpr std::string_view link_ahead = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m, -F30 RCD 40 A 2P 30 mA type A]
    circuits:
      - {id: -F31, device: B16 1P+N, cable: 3×2.5 mm² 10 m, use: fixed}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("bond ahead of RCDs: an inverter's own link is ahead of every RCD that it feeds") {
  const auto all = judged(link_ahead);
  CHECK(sound(all));
  CHECK(says(all, Outcome::holds, "-T1", "island"));
}

TEST_CASE("bond ahead of RCDs: a link on the bar behind the RCD is found, the RCD named") {
  const auto all = judged(rules::bond_upstream_of_every_rcd.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X5");
  CHECK(broken_ones(all).front().message == "'-X5' joins neutral to earth behind RCD '-F30'");
}

TEST_CASE("bond ahead of RCDs: the same link on the other side of the RCD is sound") {
  CHECK(sound(
      judged(with(rules::bond_upstream_of_every_rcd.example, "{at: A3,", "{at: -T1:backup,"))));
}

TEST_CASE("bond ahead of RCDs: an RCD in another branch is not asked") {
  CHECK(sound(judged(with(link_ahead, "circuits:",
                          "circuits:\n      - {id: -F32, device: B16 1P+N "
                          "30 mA type A, cable: 3×1.5 mm² 9 m, use: "
                          "lighting}"))));
}

TEST_CASE(
    "bond ahead of RCDs: a link of unknown position is left open by the rule that counts it") {
  const auto all = judged(with(rules::bond_upstream_of_every_rcd.example,
                               ", rest: open, closed in: [island], proved by: [-Q1]", ""));
  CHECK(broken_ones(all).empty());
  CHECK(those(all, Outcome::holds).empty());
}

TEST_CASE("bond ahead of RCDs: two joints are left to the rules that count them") {
  CHECK(silent(
      judged(with(link_ahead, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X5: {at: A3}}}"))));
}

}  // namespace
}  // namespace linewright::tests
