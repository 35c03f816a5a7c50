#include <algorithm>
#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule between_source_and_load_in_every_state;
}

namespace linewright::tests {
namespace {

/// A house with a generator on a changeover; what is on the grid's way, and in the circuit.
std::string house(const std::string& grid_way, const std::string& circuit,
                  const std::string& use = ", use: sockets") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes, earth: 16 mm²}
panel:
  id: +A2
  interior: manual changeover
  grid: [A1, )" +
         grid_way + R"(-W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [A2, -W4 3×10 mm² 5 m]
    circuits:
      - {name: Sockets, device: )" +
         circuit + ", cable: 3×2.5 mm² 20 m" + use + "}\n";
}

const std::string incomer = "-F10 RCD 63 A 2P 30 mA type A, ";

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::between_source_and_load_in_every_state, yaml);
}

TEST_CASE("RCD in every state: one in the circuit guards it from grid and generator") {
  const auto all = ask(house("", "-F1 B16 1P+N 30 mA type A"));
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "grid generator");
}

TEST_CASE("RCD in every state: one on the grid's way leaves the generator's circuits without") {
  const auto all = ask(house(incomer, "-F1 B16 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F10", "generator"));
  CHECK(broken_ones(all).front().message ==
        "'-F10' does not guard 'Sockets' from '-G1', must from every source");
  CHECK(states_with(all, Outcome::holds) == "grid");
}

TEST_CASE("RCD in every state: 100 mA in the circuit does not stand in for 30 mA at the incomer") {
  CHECK(broken_ones(ask(house(incomer, "-F1 B16 1P+N 30 mA type A"))).empty());
  CHECK(broken_ones(ask(house(incomer, "-F1 B16 1P+N 100 mA type A"))).size() == 1);
}

TEST_CASE("RCD in every state: a second RCD of unknown rating is open, not a pass") {
  const auto all = ask(house(incomer, "[-F11 RCD 40 A 2P type A, -F1 B16 1P+N]"));
  CHECK(states_with(all, Outcome::open) == "generator");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("RCD in every state: of unknown use the circuit is open where the RCD is skipped") {
  const auto all = ask(house(incomer, "-F1 B16 1P+N", ""));
  CHECK(states_with(all, Outcome::open) == "generator");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("RCD in every state: a pump in TN that needs none may leave its RCD on the grid side") {
  CHECK(silent(ask(house(incomer, "-F1 B16 1P+N", ", use: motor"))));
}

TEST_CASE("RCD in every state: a circuit that never had one is another rule's") {
  CHECK(silent(ask(house("", "-F1 B16 1P+N"))));
}

TEST_CASE("RCD in every state: an RCD on each source's way guards in both states") {
  std::string yaml = house(incomer, "-F1 B16 1P+N");
  const std::string way = "generator: [-G1, ";
  yaml.insert(yaml.find(way) + way.size(), "-F12 RCD 40 A 2P 30 mA type A, ");
  CHECK(sound(ask(yaml)));
}

TEST_CASE("RCD in every state: a generator without a bond is no pass for the RCDs behind it") {
  std::string yaml = house("", "-F1 B16 1P+N 30 mA type A");
  const std::string linked = "neutral: linked";
  yaml.replace(yaml.find(linked), linked.size(), "neutral: floating");
  const auto all = ask(yaml);
  CHECK(states_with(all, Outcome::holds) == "grid");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("RCD in every state: one RCD skipped from two sources is one finding that names both") {
  const auto report = report_on(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes}
  -G2: {power: 6 kVA, neutral: linked, winding: line-neutral, fixed: yes}
devices:
  -Q1: changeover I-0-II-III 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [-Q1, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [A1, -F10 RCD 63 A 2P 30 mA type A, -W2 3×10 mm² 5 m, -Q1:I]
  - [-G1, -W3 3×6 mm² 5 m, -Q1:II]
  - [-G2, -W5 3×6 mm² 5 m, -Q1:III]
states:
  grid: {-Q1: I}
  generator: {-Q1: II, running: [-G1]}
  second generator: {-Q1: III, kind: generator, running: [-G2]}
)");
  std::vector<std::string> told;
  for (const Finding& it : report.findings)
    if (it.rule == "rcd/between-source-and-load-in-every-state") told.push_back(it.message);
  CHECK(told == std::vector<std::string>{"'-F10' does not guard 'Sockets' from '-G1' and '-G2', "
                                         "must from every source"});
}

}  // namespace
}  // namespace linewright::tests
