#include <algorithm>
#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule additional_protection_circuits;
}

namespace linewright::tests {
namespace {

/// A board on a TN-S supply with the circuits given, one a line.
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

std::string socket(const std::string& device) {
  return house("      - {id: -F1, name: Sockets, device: " + device +
               ", cable: 3×2.5 mm² 20 m, use: sockets}\n");
}

std::vector<Verdict> ask(const std::string& yaml, std::string_view profile = {}) {
  return verdicts(rules::additional_protection_circuits, yaml, profile);
}

TEST_CASE("additional protection: sockets behind 30 mA are sound") {
  CHECK(sound(ask(socket("B16 1P+N 30 mA type A 6 kA"))));
}

TEST_CASE("additional protection: sockets on a plain breaker are a danger at their breaker") {
  const auto all = ask(socket("B16 1P+N 6 kA"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK(broken_ones(all).front().message == "'Sockets' has no RCD, must have one of 30 mA or less");
}

TEST_CASE("additional protection: 30 mA holds and the next value of the series does not") {
  CHECK(sound(ask(socket("B16 1P+N 30 mA type A"))));
  const auto all = ask(socket("B16 1P+N 100 mA type A"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Sockets' has an RCD of 100 mA, must have one of 30 mA or less");
}

TEST_CASE("additional protection: copies of one line are one finding, with one edit") {
  const auto found = broken_ones(
      ask(house("      - {id: -F1, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: "
                "sockets, quantity: 3}\n      - {name: Office, device: B16 1P+N, cable: 3×2.5 mm² "
                "20 m, use: sockets, quantity: 2}\n")));
  REQUIRE(found.size() == 2);
  CHECK(found[0].message ==
        "'Sockets 1' and 2 more circuits have no RCD, must have one of 30 mA or less");
  CHECK(found[0].edits.size() == 1);
  CHECK(found[1].message ==
        "'Office 1' and 'Office 2' have no RCD, must have one of 30 mA or less");
  REQUIRE(found[0].notes.size() == 1);
  CHECK(found[0].notes[0].text ==
        "without the RCD needed: 'Sockets 1', 'Sockets 2' and 'Sockets 3'");
}

TEST_CASE("additional protection: circuits under one RCD that is too coarse are one finding") {
  const auto found = broken_ones(ask(
      house("      - {group: -F9 RCD 40 A 2P 100 mA type A, circuits: [{id: -F1, name: Kitchen, "
            "device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}, {id: -F2, name: Hall, "
            "device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}]}\n")));
  REQUIRE(found.size() == 1);
  CHECK(found[0].message ==
        "'Kitchen' and 'Hall' have an RCD of 100 mA, must have one of 30 mA or less");
  CHECK(found[0].edits.size() == 2);
}

TEST_CASE("additional protection: a delayed 30 mA device does not count") {
  CHECK(broken_ones(ask(socket("B16 1P+N 30 mA type A S"))).size() == 1);
}

TEST_CASE("additional protection: sockets of 32 A need it and sockets of 40 A do not") {
  CHECK(broken_ones(ask(socket("C32 1P+N"))).size() == 1);
  CHECK(silent(ask(socket("C40 1P+N"))));
}

TEST_CASE("additional protection: a circuit of unknown use is open, not a pass") {
  const auto all =
      ask(house("      - {id: -F1, name: Spare, device: B16 1P+N, "
                "cable: 3×2.5 mm² 20 m}\n"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "what circuit 'Spare' serves (use)");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("additional protection: an RCD of unknown rating is open, not a pass") {
  const auto all =
      ask(house("      - {group: -F9 RCD 40 A 2P type A, circuits: [{id: -F1, "
                "name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, "
                "use: sockets}]}\n"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing.find("-F9") != std::string::npos);
}

TEST_CASE("additional protection: of unknown use but behind 30 mA there is nothing to ask") {
  CHECK(
      sound(ask(house("      - {id: -F1, name: Spare, device: B16 1P+N 30 mA type A, "
                      "cable: 3×2.5 mm² 20 m}\n"))));
}

TEST_CASE("additional protection: a common RCD ahead of plain breakers protects each of them") {
  CHECK(
      sound(ask(house("      - {group: -F9 RCD 40 A 2P 30 mA type A, circuits: [{id: -F1, "
                      "name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}, "
                      "{id: -F2, name: Lights, device: B6 1P+N, cable: 3×1.5 mm² 20 m, "
                      "use: lighting}]}\n"))));
}

TEST_CASE("additional protection: a cooker needs it where the whole dwelling does, else not") {
  const std::string cooker = house(
      "      - {id: -F1, name: Cooker, device: B32 1P+N, cable: 3×6 mm² 8 m, use: cooking}\n");
  CHECK(silent(ask(cooker, "GB")));
  CHECK(broken_ones(ask(cooker, "AU")).size() == 1);
}

TEST_CASE("additional protection: lights outside a dwelling do not need it") {
  const std::string lights =
      "      - {id: -F1, name: Lights, device: B6 1P+N, cable: 3×1.5 mm² 20 m, use: lighting";
  CHECK(broken_ones(ask(house(lights + "}\n"))).size() == 1);
  CHECK(silent(ask(house(lights + ", dwelling: no}\n"))));
}

TEST_CASE("additional protection: a coarse incomer above 30 mA devices is no fault") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 300 mA type A S]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)")));
}

TEST_CASE("additional protection: a coarse RCD in one state and none in another are one finding") {
  const auto report = report_on(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes}
panel:
  id: +A2
  interior: manual changeover
  grid: [A1, -F10 RCD 63 A 2P 300 mA type A S, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}
)");
  CHECK(std::ranges::count_if(report.findings, [](const Finding& it) {
          return it.rule == "rcd/additional-protection-circuits";
        }) == 1);
}

}  // namespace
}  // namespace linewright::tests
