#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_source_on_load_side_of_shared_rcd;
}

namespace linewright::tests {
namespace {

/// A board behind one device, with a socket circuit and a PV inverter on it.
std::string house(const std::string& incomer, const std::string& sockets,
                  const std::string& inverter = "kind: pv, pv: {power: 3 kWp}") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, )" +
         incomer + R"(]
    circuits:
      - {id: -F1, name: Sockets, device: )" +
         sockets + R"(, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {power: 3 kVA, separation: transformer, )" +
         inverter + R"(}
chains:
  - [A1, -F2 C20 2P, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)";
}

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::no_source_on_load_side_of_shared_rcd, yaml);
}

TEST_CASE("shared RCD: PV on the load side of the sockets' RCD is found at the RCD") {
  const auto all = ask(house("-F10 RCD 63 A 2P 30 mA type A", "B16 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "grid"));
  CHECK(broken_ones(all).front().message ==
        "'-F10' guards 'Sockets' and has '-T1' behind it, must not");
}

TEST_CASE("shared RCD: a breach where it opens N and the source cannot go on alone, else danger") {
  const auto severity = [](const std::string& yaml) {
    const auto broken = broken_ones(ask(yaml));
    REQUIRE(broken.size() == 1);
    return broken.front().severity;
  };
  CHECK(severity(house("-F10 RCD 63 A 2P 30 mA type A", "B16 1P+N")) == Severity::breach);
  CHECK_FALSE(severity(house("-F10 RCD 63 A 1P 30 mA type A", "B16 1P+N")));
  CHECK_FALSE(severity(house("-F10 RCD 63 A 2P 30 mA type A", "B16 1P+N",
                             "kind: battery, backup side: yes, bond: none, "
                             "neutral in island: opened, battery: {energy: 5 kWh}")));
}

TEST_CASE("shared RCD: PV ahead of it, or an RCBO of its own, is sound or not asked") {
  CHECK(silent(ask(house("-Q1 switch-disconnector 63 A 2P", "B16 1P+N 30 mA type A"))));
}

TEST_CASE("shared RCD: an incomer above circuits that have their own RCDs is not shared") {
  CHECK(sound(ask(house("-F10 RCD 63 A 2P 300 mA type A S", "B16 1P+N 30 mA type A"))));
}

TEST_CASE("shared RCD: at 300 mA it is found as at 30 mA, as long as nothing else guards") {
  CHECK(broken_ones(ask(house("-F10 RCD 63 A 2P 300 mA type A", "B16 1P+N"))).size() == 1);
}

TEST_CASE("shared RCD: poles that are not given are no reason to call it milder") {
  const auto broken = broken_ones(ask(house("-F10 RCD 63 A 30 mA type A", "B16 1P+N")));
  REQUIRE(broken.size() == 1);
  CHECK_FALSE(broken.front().severity);
}

TEST_CASE("shared RCD: a RCD for the source's own cable is sound") {
  CHECK(sound(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: pv, power: 3 kVA, pv: {power: 3 kWp}}
chains:
  - [A1, -F2 C20 2P 30 mA type B, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)")));
}

TEST_CASE("shared RCD: two inverters behind one RCD are one finding that names both") {
  const auto all = ask(with(with(house("-F10 RCD 63 A 2P 30 mA type A", "B16 1P+N"), "chains:\n",
                                 "  -T2: {power: 3 kVA, separation: transformer, kind: pv}\n"
                                 "chains:\n  - [A1, -F3 C20 2P, -W3 3×4 mm² 8 m, -T2:ac]\n"),
                            "kind: pv, pv: {power: 3 kWp}", "kind: pv"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'-F10' guards 'Sockets' and has '-T1' and '-T2' behind it, must not");
}

}  // namespace
}  // namespace linewright::tests
