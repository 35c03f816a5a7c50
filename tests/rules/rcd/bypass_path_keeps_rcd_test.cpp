#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bypass_path_keeps_rcd;
}

namespace linewright::tests {
namespace {

/// One hybrid with a bypass; what is in the inverter's output, at the board's feed, in the circuit.
std::string house(const std::string& output, const std::string& feed, const std::string& circuit,
                  const std::string& use = ", use: sockets") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
panel:
  id: +A2
  interior: one source with bypass
  grid: [A1, -F10 C32 2P two-way, -W2 3×10 mm² 5 m]
  inverters:
    -T1: {in: [-F21 C32 2P two-way, -W3 3×6 mm² 2 m], out: [-W4 3×6 mm² 2 m, )" +
         output + R"(]}
  bypass: 40 A 2P by hand isolating lockable
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W5 3×10 mm² 5 m)" +
         feed + R"(]
    circuits:
      - {name: Sockets, device: )" +
         circuit + ", cable: 3×2.5 mm² 20 m" + use + "}\n";
}

const std::string plain = "-F22 C32 2P two-way";
const std::string rcd = "-F22 RCD 40 A 2P 30 mA type A two-way";

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::bypass_path_keeps_rcd, yaml);
}

TEST_CASE("bypass keeps the RCD: at the board's feed it guards in bypass too") {
  const auto all = ask(house(plain, ", -F23 RCD 40 A 2P 30 mA type A", "-F1 B16 1P+N"));
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "bypass");
}

TEST_CASE("bypass keeps the RCD: one in the inverter's output is led around") {
  const auto all = ask(house(rcd, "", "-F1 B16 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F22", "bypass"));
  CHECK(broken_ones(all).front().message ==
        "bypass enters behind '-F22': 'Sockets' without RCD, must keep one");
}

TEST_CASE("bypass keeps the RCD: 30 mA in the circuit makes up for it and 100 mA does not") {
  CHECK(sound(ask(house(rcd, "", "-F1 B16 1P+N 30 mA type A"))));
  CHECK(broken_ones(ask(house(rcd, "", "-F1 B16 1P+N 100 mA type A"))).size() == 1);
}

TEST_CASE("bypass keeps the RCD: an RCD of unknown rating in the circuit is open, not a pass") {
  const auto all = ask(house(rcd, "", "[-F11 RCD 40 A 2P type A, -F1 B16 1P+N]"));
  CHECK(states_with(all, Outcome::open) == "bypass");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("bypass keeps the RCD: a freezer of a circuit that needs none is no fault") {
  CHECK(silent(ask(house(rcd, "", "-F1 B16 1P+N", ", use: fixed"))));
}

TEST_CASE("bypass keeps the RCD: a site without bypass has nothing to judge") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F9 RCD 63 A 2P 30 mA type A]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
