#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule interlock_by_construction;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::interlock_by_construction;

// Field cases 1, 19 and 20 in small: a supply, a generator, and what stands between them.
std::string contactors(std::string_view interlock, std::string_view poles = "2P") {
  const std::string p(poles);
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 5 kVA, neutral: linked, fixed: yes}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [supply, -Q1 contactor 63 A " +
         p +
         "]\n"
         "chains:\n"
         "  - [-G2, -W2 3×6 mm² 9 m, -Q2 contactor 63 A " +
         p +
         ", A1]\n"
         "states:\n"
         "  grid: {-Q1: closed}\n"
         "  generator: {-Q2: closed}\n" +
         std::string(interlock);
}

TEST_CASE("interlock by construction: two contactors that nothing keeps apart are a danger") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-Q2");
  CHECK_FALSE(broken_ones(all)[0].severity.has_value());
}

TEST_CASE("interlock by construction: a mechanical or a key interlock is enough") {
  CHECK(sound(verdicts(rule, contactors("interlocks:\n"
                                        "  - {never together: [-Q1, -Q2], by: mechanical}\n"))));
  CHECK(sound(verdicts(rule, contactors("interlocks:\n"
                                        "  - {never together: [-Q1, -Q2], by: key}\n"))));
}

TEST_CASE("interlock by construction: electrical means alone are advice, control alone a breach") {
  const auto electrical = broken_ones(verdicts(
      rule, contactors("interlocks:\n  - {never together: [-Q1, -Q2], by: electrical}\n")));
  REQUIRE(electrical.size() == 1);
  CHECK(electrical[0].severity == Severity::advice);
  const auto control = broken_ones(
      verdicts(rule, contactors("interlocks:\n  - {never together: [-Q1, -Q2], by: control}\n")));
  REQUIRE(control.size() == 1);
  CHECK(control[0].severity == Severity::breach);
}

TEST_CASE("interlock by construction: a lever beside the electrical interlock is enough") {
  CHECK(sound(verdicts(rule, contactors("interlocks:\n"
                                        "  - {never together: [-Q1, -Q2], by: electrical}\n"
                                        "  - {never together: [-Q1, -Q2], by: mechanical}\n"))));
}

TEST_CASE("interlock by construction: an interlock of unknown means is open, not a pass") {
  const auto all = verdicts(rule, contactors("interlocks:\n  - {never together: [-Q1, -Q2]}\n"));
  CHECK(says(all, Outcome::open, "-Q1"));
  CHECK(broken_ones(all).empty());
}

TEST_CASE("interlock by construction: an interlock of other devices does not count") {
  const auto all =
      verdicts(rule, contactors("interlocks:\n  - {never together: [-Q1, -Q9], by: mechanical}\n"
                                "devices:\n  -Q9: contactor 63 A 2P\n"));
  CHECK(says(all, Outcome::broken, "-Q2"));
}

std::string changeover(std::string_view words, std::string_view facts) {
  return "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 50 kVA, neutral: linked, fixed: yes}\n"
         "devices:\n"
         "  -Q1: {device: changeover " +
         std::string(words) + " 200 A 4P" + std::string(facts) +
         "}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [-Q1, -W4 5×70 mm² 5 m]\n"
         "chains:\n"
         "  - [supply, -Q1:I]\n"
         "  - [-G2, -Q1:II]\n"
         "states:\n"
         "  grid: {-Q1: I}\n"
         "  generator: {-Q1: II}\n";
}

TEST_CASE("interlock by construction: one changeover parts two sources by itself") {
  CHECK(sound(verdicts(rule, changeover("I-0-II", ", break before make: yes"))));
  CHECK(sound(verdicts(rule, changeover("I-II", ", break before make: yes"))));
  CHECK(sound(verdicts(rule, changeover("I-0-II", ""))));  // its 0 stands between
}

TEST_CASE("interlock by construction: contacts that overlap are another rule's") {
  CHECK(sound(verdicts(rule, changeover("I-II", ", break before make: no"))));
}

TEST_CASE("interlock by construction: two breakers closed at rest need a slide between them") {
  const std::string site =
      "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
      "generators:\n"
      "  -G1: {power: 7 kVA, neutral: floating, fixed: yes}\n"
      "boards:\n"
      "  +A1:\n"
      "    feed: [supply, -F1 C63 2P]\n"
      "chains:\n"
      "  - [-G1, -F2 C32 2P, A1]\n"
      "states:\n"
      "  grid: {-F2: open}\n"
      "  generator: {-F1: open}\n";
  CHECK(broken_ones(verdicts(rule, site)).size() == 1);
  CHECK(sound(
      verdicts(rule, site + "interlocks:\n  - {never together: [-F1, -F2], by: mechanical}\n")));
}

constexpr const char* second_way = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
  -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A3:
    feed: [-Q2, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
  - [-Q1, -F21 C32 2P, -T1:ac]
  - [-T1:backup, -F22 C32 2P, -Q2:I]
  - [-Q1, -Q2:II]
states:
  grid: {-Q1: I, -Q2: I}
  island: {-Q1: 0, -Q2: I, running: [-T1]}
  generator: {-Q1: II, -Q2: I}
  bypass: {-Q1: I, -Q2: II, running: [supply]}
)";

TEST_CASE("interlock by construction: two changeovers in series leave no way round") {
  CHECK(sound(verdicts(rule, second_way)));
}

TEST_CASE("interlock by construction: a switch round the bypass is told once for both sources") {
  const auto all = broken_ones(
      verdicts(rule, std::string(second_way) +
                         "types: {}\n"
                         "assemblies:\n"
                         "  +A5:\n"
                         "    chains:\n"
                         "      - [-Q1, -Q5 switch-disconnector 63 A 2P normally open, -Q2:I]\n"));
  REQUIRE(all.size() == 1);  // -T1 meets the supply, and the generator, over the same switch
  CHECK(all[0].message.find("'-Q5'") != std::string::npos);
}

TEST_CASE("interlock by construction: a lever between two enclosures is asked for on site") {
  const std::string site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 contactor 63 A 2P]}
  +A9: {feed: [-G2, -W9 3×6 mm² 9 m, -Q2 contactor 63 A 2P]}
chains:
  - [A9, -F8 C20 2P, -W8 3×6 mm² 60 m, A1]
states:
  grid: {-Q1: closed}
  generator: {-Q2: closed}
interlocks:
  - {never together: [-Q1, -Q2], by: mechanical}
)";
  const auto all = verdicts(rule, site);
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all)[0].message.find("'-Q1' and '-Q2'") != std::string::npos);
  // A key is carried from one to the other, and devices of one enclosure stand side by side.
  CHECK(questions_of(verdicts(rule, with(site, "by: mechanical", "by: key"))).empty());
  CHECK(
      questions_of(verdicts(rule, contactors("interlocks:\n"
                                             "  - {never together: [-Q1, -Q2], by: mechanical}\n")))
          .empty());
}

}  // namespace
}  // namespace linewright::tests
