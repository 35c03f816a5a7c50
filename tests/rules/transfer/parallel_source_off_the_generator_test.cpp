#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule parallel_source_off_the_generator;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::parallel_source_off_the_generator;

// Field case 8 in small: PV back-fed on the board that a generator feeds as well.
std::string site_with(std::string_view generator, std::string_view inverter,
                      std::string_view pv_chain = "[-T1:ac, -W5 3×6 mm² 5 m, -F3 C40 2P, A1]",
                      std::string_view state = "{-Q1: II}", std::string_view interlocks = "") {
  return "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
         "generators:\n"
         "  -G2: {power: 7 kVA, neutral: linked, fixed: yes" +
         std::string(generator) +
         "}\n"
         "inverters:\n"
         "  -T1: {kind: pv, grid: following, power: 7.6 kVA" +
         std::string(inverter) +
         "}\n"
         "devices:\n"
         "  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}\n"
         "boards:\n"
         "  +A1:\n"
         "    feed: [-Q1, -W4 3×10 mm² 5 m]\n"
         "chains:\n"
         "  - [supply, -W1 3×10 mm² 2 m, -Q1:I]\n"
         "  - [-G2, -Q1:II]\n"
         "  - " +
         std::string(pv_chain) +
         "\n"
         "states:\n"
         "  grid: {-Q1: I}\n"
         "  generator: " +
         std::string(state) + "\n" + std::string(interlocks);
}

constexpr const char* unfit = ", takes power back: no, reverse power relay: no";
constexpr const char* unguarded = ", zero feed to generator: no";

TEST_CASE(
    "parallel source off the generator: PV on the board that the generator feeds is a danger") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-F3");
  CHECK(broken_ones(all)[0].state == "generator");
}

TEST_CASE("parallel source off the generator: zero feed and a reverse power relay together hold") {
  CHECK(sound(
      verdicts(rule, site_with(", reverse power relay: yes", ", zero feed to generator: yes"))));
  CHECK(
      says(verdicts(rule, site_with(", reverse power relay: no", ", zero feed to generator: yes")),
           Outcome::broken, "-F3"));
  CHECK(
      says(verdicts(rule, site_with(", reverse power relay: yes", ", zero feed to generator: no")),
           Outcome::broken, "-F3"));
}

TEST_CASE("parallel source off the generator: a generator declared fit to take power back holds") {
  CHECK(sound(verdicts(rule, site_with(", takes power back: yes", unguarded))));
}

TEST_CASE("parallel source off the generator: safeguards not stated are open, not a pass") {
  const auto all = verdicts(rule, site_with(", reverse power relay: yes", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all)[0].missing == "'zero feed to generator' of '-T1'");
  CHECK(broken_ones(all).empty());
}

TEST_CASE("parallel source off the generator: PV on the supply's side of the transfer holds") {
  CHECK(sound(verdicts(rule, site_with(unfit, unguarded, "[-T1:ac, -F3 C40 2P, -Q1:I]"))));
}

TEST_CASE("parallel source off the generator: a breaker that somebody must remember is a danger") {
  const auto all = verdicts(
      rule, site_with(unfit, unguarded, "[-T1:ac, -F3 C40 2P, A1]", "{-Q1: II, -F3: open}"));
  CHECK(says(all, Outcome::broken, "-F3"));
}

TEST_CASE("parallel source off the generator: a contactor that only its control opens is advice") {
  const auto all = broken_ones(
      verdicts(rule, site_with(unfit, unguarded, "[-T1:ac, -F3 C40 2P, -Q3 contactor 40 A 2P, A1]",
                               "{-Q1: II, -Q3: open}")));
  REQUIRE(all.size() == 1);
  CHECK(all[0].severity == Severity::advice);
}

TEST_CASE("parallel source off the generator: a mechanical interlock keeps it off") {
  CHECK(sound(verdicts(
      rule,
      site_with(unfit, unguarded, "[-T1:ac, -F3 C40 2P, A1]", "{-Q1: II, -F3: open}",
                "interlocks:\n  - {never together: [-Q1: II, -F3: closed], by: mechanical}\n"))));
}

TEST_CASE("parallel source off the generator: a hybrid that runs on it is judged alike") {
  const std::string site = R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island,
        zero feed to generator: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A2:
    feed: [-T1:backup, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
  - [-Q1, -F21 C32 2P, -T1:ac]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
generators:
)";
  CHECK(sound(verdicts(
      rule,
      site + "  -G2: {power: 7 kVA, neutral: linked, fixed: yes, reverse power relay: yes}\n")));
  CHECK(says(verdicts(rule, site + "  -G2: {power: 7 kVA, neutral: linked, fixed: yes, "
                                   "reverse power relay: no}\n"),
             Outcome::broken, "-F21", "generator"));
}

}  // namespace
}  // namespace linewright::tests
