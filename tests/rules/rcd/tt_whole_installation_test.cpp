#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule tt_whole_installation;
}

namespace linewright::tests {
namespace {

/// A TT house: its tails, its main switch, one circuit.
std::string house(const std::string& tails, const std::string& main, const std::string& circuit,
                  const std::string& use = "motor") {
  return R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² 3 m)" +
         tails + ", " + main + R"(]
    circuits:
      - {id: -F1, name: Pump, device: )" +
         circuit + ", cable: 3×2.5 mm² 20 m, use: " + use + "}\nstates:\n  grid: {}\n";
}

const std::string sheathed = " double insulated";
const std::string switch_only = "-Q1 switch-disconnector 63 A 2P";
const std::string incomer = "-F9 RCD 63 A 2P 100 mA type A S";

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::tt_whole_installation, yaml);
}

TEST_CASE("TT: an incomer RCD behind sheathed tails guards the whole installation") {
  CHECK(sound(ask(house(sheathed, incomer, "B16 1P+N"))));
}

TEST_CASE("TT: no RCD in front is sound where every circuit has one and the tails are sheathed") {
  CHECK(sound(ask(house(sheathed, switch_only, "B16 1P+N 30 mA type A"))));
}

TEST_CASE("TT: a circuit on a plain breaker alone is a danger") {
  const auto all = ask(house(sheathed, switch_only, "B16 1P+N"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(says(all, Outcome::broken, "-F1", "grid"));
  CHECK(broken_ones(all).front().message == "'Pump' has no RCD in TT, must have one");
}

TEST_CASE("TT: forty circuits of a board without RCD are one finding that names them") {
  std::string circuits;
  for (int i = 2; i <= 40; ++i)
    circuits += "      - {name: Pump " + std::to_string(i) +
                ", device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: motor}\n";
  const auto found = broken_ones(
      ask(with(house(sheathed, switch_only, "B16 1P+N"), "states:", circuits + "states:")));
  REQUIRE(found.size() == 1);
  CHECK(found.front().element == "+A1");
  CHECK(found.front().message == "'Pump' and 39 more circuits have no RCD in TT, must have one");
  REQUIRE(found.front().notes.size() == 1);
  for (int i = 2; i <= 40; ++i)
    CHECK(found.front().notes[0].text.find("'Pump " + std::to_string(i) + "'") !=
          std::string::npos);
}

TEST_CASE("TT: an RCD of 500 mA is one, whatever else is wrong with it") {
  CHECK(broken_ones(ask(house(sheathed, "-F9 RCD 63 A 2P 500 mA type A", "B16 1P+N"))).empty());
}

TEST_CASE("TT: sockets without any RCD are told once, by the rule on additional protection") {
  CHECK(silent(ask(house(sheathed, switch_only, "B16 1P+N", "sockets"))));
}

TEST_CASE("TT: tails whose insulation is not given are open, not a pass") {
  const auto all = ask(house("", switch_only, "B16 1P+N 30 mA type A"));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "insulation of '-W1' (cable: … double insulated)");
}

TEST_CASE("TT: tails out of their sheath ahead of the first RCD are a danger") {
  const auto all = ask(house(" single insulated", switch_only, "B16 1P+N 30 mA type A"));
  CHECK(says(all, Outcome::broken, "-W1", "grid"));
  CHECK(broken_ones(all).size() == 1);
}

TEST_CASE("TT: the cables behind the RCDs are not asked for double insulation") {
  const auto all = ask(house(sheathed, switch_only, "B16 1P+N 30 mA type A"));
  CHECK(says(all, Outcome::holds, "-W1"));
  for (const Verdict& verdict : all)
    CHECK((verdict.element == "-W1" || verdict.element == "-F1"));
}

TEST_CASE("TT: in TN a plain breaker is none of this rule's business") {
  CHECK(silent(ask(R"(site: {name: House}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Pump, device: B16 1P+N, cable: 3×2.5 mm² 20 m, use: motor}
states:
  grid: {}
)")));
}

}  // namespace
}  // namespace linewright::tests
