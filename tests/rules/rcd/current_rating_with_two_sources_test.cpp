#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule current_rating_with_two_sources;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::current_rating_with_two_sources, yaml);
}

/// A group of two circuits behind -F10, an inverter beside it on the same bar.
std::string house(const std::string& fuse, const std::string& group, const std::string& inverter,
                  const std::string& circuit = "B40") {
  const std::string fuse_key = fuse.empty() ? "" : ", fuse: " + fuse;
  return "site: {name: House}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S" + fuse_key +
         "}\nboards:\n  +A1:\n    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A "
         "2P]\n    circuits:\n      - group: -F10 " +
         group + " 2P 30 mA type A\n        circuits:\n          - {device: " + circuit +
         " 1P+N, cable: 3×10 mm² 12 m, use: cooking}\n          - {device: " + circuit +
         " 1P+N, cable: 3×10 mm² 12 m, use: fixed}\ninverters:\n"
         "  -T1: {kind: pv, power: 7 kVA, pv: {power: 7 kWp}}\nchains:\n  - [A1, -F5 " +
         inverter + " 2P two-way, -W5 3×6 mm² 8 m, -T1:ac]\nstates:\n  grid: {}\n";
}

TEST_CASE("rating of an RCD: two sources ahead of it add up") {
  // 63 A of the fuse and 7000 VA / 230 V = 30.4 A of the inverter; the circuits could draw 80 A
  const auto all = ask(house("63 A gG", "RCD 63 A", "C32"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message == "80 A can pass '-F10', which carries 63 A");
}

TEST_CASE("rating of an RCD: what stands behind it limits as well, at just its rating too") {
  CHECK(sound(ask(house("63 A gG", "RCD 80 A", "C32"))));
  CHECK(sound(ask(house("63 A gG", "RCD 40 A", "C32", "B20"))));
  CHECK(broken_ones(ask(house("63 A gG", "RCD 40 A", "C32", "B25"))).size() == 1);
}

TEST_CASE("rating of an RCD: the sources limit it, at just their sum too") {
  // 63 A + 16 A = 79 A
  CHECK(sound(ask(house("63 A gG", "RCD 79 A", "C16"))));
  CHECK(broken_ones(ask(house("63 A gG", "RCD 78 A", "C16"))).size() == 1);
}

TEST_CASE("rating of an RCD: a fuse or rating that is missing is open, not a pass") {
  const auto fuse = open_ones(ask(house("", "RCD 63 A", "C32")));
  REQUIRE(fuse.size() == 1);
  CHECK(fuse.front().missing == "fuse of the supply (fuse: 63 A gG)");
  const auto own = open_ones(ask(house("63 A gG", "RCD", "C32")));
  REQUIRE(own.size() == 1);
  CHECK(own.front().missing == "rated current of '-F10' (device: RCD 63 A …)");
}

TEST_CASE("rating of an RCD: a source behind it does not add to what comes from above") {
  // 63 A come down from the fuse, 32 A could go up: never both
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 300 mA type B two-way]
    circuits:
      - {id: -F1, device: C50 1P+N, cable: 3×10 mm² 12 m, use: cooking}
inverters:
  -T1: {kind: pv, power: 7 kVA, pv: {power: 7 kWp}}
chains:
  - [A1, -F5 C32 2P two-way, -W5 3×6 mm² 8 m, -T1:ac]
states:
  grid: {}
)")));
}

TEST_CASE("rating of an RCD: one with overcurrent protection of its own is not asked") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, use: sockets}
)")));
}

}  // namespace
}  // namespace linewright::tests
