#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule type_for_ev;
}

namespace linewright::tests {
namespace {

std::string house(const std::string& circuits) {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
)" + circuits +
         "states:\n  grid: {}\n";
}

std::string point(const std::string& residual, const std::string& rest) {
  return house("      - {id: -F1, name: Car, device: C40 2P " + residual +
               ", cable: 3×6 mm² 15 m, use: EV" + rest + "}\n");
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::type_for_ev, yaml);
}

TEST_CASE("type for EV: type B holds, and type A or F with 6 mA DC detection") {
  CHECK(sound(ask(point("30 mA type B", ""))));
  CHECK(sound(ask(point("30 mA type A", ", dc detection: yes"))));
  CHECK(sound(ask(point("30 mA type F", ", dc detection: yes"))));
  CHECK(sound(ask(point("30 mA type A 6 mA DC", ""))));
}

TEST_CASE("type for EV: type A without DC detection is a danger at its RCD") {
  const auto all = ask(point("30 mA type A", ", dc detection: no"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK_FALSE(broken_ones(all).front().severity);
}

TEST_CASE("type for EV: a detector that is not stated is open, not a pass") {
  const auto all = ask(point("30 mA type A", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "whether 'Car' has 6 mA DC detection (dc detection)");
}

TEST_CASE("type for EV: a type that is not stated is open, not a pass") {
  CHECK(open_ones(ask(point("30 mA", ", dc detection: yes"))).size() == 1);
}

TEST_CASE("type for EV: no RCD of 30 mA at all is another rule's to tell") {
  CHECK(silent(ask(point("100 mA type B", ""))));
}

TEST_CASE("type for EV: on type AC no detector helps") {
  const auto all = ask(point("30 mA type AC", ", dc detection: yes"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
}

TEST_CASE("type for EV: an RCD shared with the sockets is a breach: each point has its own") {
  const auto all = ask(house(
      "      - {group: -F9 RCD 63 A 2P 30 mA type A, circuits: [{id: -F1, name: Car, device: C32 "
      "2P, cable: 3×6 mm² 15 m, use: EV, dc detection: yes}, {id: -F2, name: Sockets, device: "
      "B16 2P, cable: 3×2.5 mm² 15 m, use: sockets}]}\n"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F9"));
  CHECK(broken_ones(all).front().severity == Severity::breach);
}

TEST_CASE("type for EV: a common coarse incomer above the point's own RCD is no fault") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 300 mA type B S]
    circuits:
      - {id: -F1, name: Car, device: C32 2P 30 mA type A, cable: 3×6 mm² 15 m, use: EV, dc detection: yes}
      - {id: -F2, name: Sockets, device: B16 2P 30 mA type A, cable: 3×2.5 mm² 15 m, use: sockets}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
