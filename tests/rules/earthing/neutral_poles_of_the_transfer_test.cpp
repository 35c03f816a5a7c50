#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule neutral_poles_of_the_transfer;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::neutral_poles_of_the_transfer, yaml, profile);
}

constexpr std::string_view changeover = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 4P by hand
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

TEST_CASE("transfer poles: four poles between two sources with a link each hold") {
  CHECK(sound(judged(changeover)));
}

TEST_CASE("transfer poles: an earthed neutral led to an IT supply is told as that") {
  std::string yaml(rules::neutral_poles_of_the_transfer.example);
  yaml.replace(yaml.find("TN-S"), 4, "IT");
  const auto found = broken_ones(judged(yaml));
  REQUIRE(!found.empty());
  CHECK(found.front().message == "'-Q1' 3P earths the neutral of an IT supply");
}

TEST_CASE("transfer poles: three poles between them are one finding, in both states") {
  const auto all = judged(rules::neutral_poles_of_the_transfer.example);
  CHECK(states_with(all, Outcome::broken) == "grid generator");
  for (const Verdict& found : broken_ones(all)) {
    CHECK(found.element == "-Q1");
    CHECK(found.message == "'-Q1' 3P keeps two bonded neutrals joined");
    CHECK_FALSE(found.severity.has_value());
  }
}

TEST_CASE("transfer poles: three poles and one common neutral with one link are sound") {
  CHECK(sound(judged(with(rules::neutral_poles_of_the_transfer.example, "linked", "floating"))));
}

TEST_CASE(
    "transfer poles: where the country keeps the neutral joined the link is at fault instead") {
  CHECK(broken_ones(judged(rules::neutral_poles_of_the_transfer.example, "AU")).empty());
}

TEST_CASE("transfer poles: poles that are not given are open") {
  const auto all = judged(with(changeover, "63 A 4P", "63 A"));
  CHECK(broken_ones(all).empty());
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "poles of '-Q1' (2P, 3P, 4P)");
}

TEST_CASE("transfer poles: with the joint on the common bar the poles are a breach at each") {
  const auto all = judged(R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
generators:
  -G1: {neutral: floating, fixed: yes}
devices:
  -Q1: contactor 100 A 3P
  -Q2: contactor 100 A 3P
assemblies:
  +A0: {busbars: {-WB1: 100 A}, links: {-X1: {at: -WB1}}}
boards:
  +A1: {feed: [-WB1, -W3 5×16 mm² 5 m]}
chains:
  - [supply, -W1 5×35 mm² 5 m, -Q1, -WB1]
  - [-G1, -W2 5×35 mm² 9 m, -Q2, -WB1]
states:
  grid: {-Q1: closed, -Q2: open}
  generator: {-Q1: open, -Q2: closed}
)");
  REQUIRE(broken_ones(all).size() == 2);
  for (const Verdict& found : broken_ones(all))
    CHECK(found.severity == Severity::breach);
  CHECK(says(all, Outcome::broken, "-Q2", "grid"));
  CHECK(says(all, Outcome::broken, "-Q1", "generator"));
}

TEST_CASE("transfer poles: an inverter that keeps the neutral joined and bonds is found") {
  const auto all = judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: joined, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)");
  CHECK(says(all, Outcome::broken, "-T1", "island"));
}

TEST_CASE("transfer poles: a site with one source has no transfer to judge") {
  CHECK(silent(judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q10 switch-disconnector 63 A 1P]}
states:
  grid: {}
)")));
}

TEST_CASE("transfer's poles: a link of unknown position behind a neutral left joined is open") {
  constexpr std::string_view bypassed = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 3 m, -F4 C25 1P by hand]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -Q5 switch-disconnector 63 A 2P by hand normally open, -W4 3×6 mm² 3 m, A2]
states:
  grid: {}
  island: {running: [-T1]}
  bypass: {-Q5: closed, -F4: open, running: [supply]}
)";
  CHECK(open_ones(judged(bypassed)).empty());
  const auto open = open_ones(judged(with(bypassed, ", bond rest: open", "")));
  REQUIRE(open.size() == 1);
  CHECK(open.front().element == "-F4");
  CHECK(open.front().state == "bypass");
}

}  // namespace
}  // namespace linewright::tests
