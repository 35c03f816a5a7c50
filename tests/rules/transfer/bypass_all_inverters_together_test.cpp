#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bypass_all_inverters_together;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::bypass_all_inverters_together;

TEST_CASE("bypass all together: an inverter landed behind the bypass switch stays on the bus") {
  const auto all = verdicts(rule, rule.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all)[0].element == "-T2");
  CHECK(broken_ones(all)[0].state == "bypass");
}

TEST_CASE("bypass all together: both outputs behind one bypass switch hold") {
  std::string site(rule.example);
  site.replace(site.find("-F24 C32 2P, -WB3"), 17, "-F24 C32 2P, -WB2");
  CHECK(sound(verdicts(rule, site)));
}

TEST_CASE("bypass all together: a breaker that the state opens takes the second one off too") {
  std::string site(rule.example);
  site.replace(site.find("{-Q2: II, running"), 17, "{-Q2: II, -F24: open, running");
  CHECK(sound(verdicts(rule, site)));
}

TEST_CASE("bypass all together: a second inverter on a bus of its own is none of the bypass") {
  const auto all = verdicts(rule, R"(supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
panel:
  id: +A2
  interior: explicit
  busbars: {-WB1: 63 A, -WB3: 63 A, -WB4: 63 A}
  devices:
    -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
  chains:
    - [supply, -WB1]
    - [-WB1, -F21 C32 2P, -T1:ac]
    - [-WB1, -F22 C32 2P, -T2:ac]
    - [-T1:backup, -F23 C32 2P, -Q2:I]
    - [-WB1, -Q2:II]
    - [-Q2, -WB3]
    - [-T2:backup, -F24 C32 2P, -WB4]
states:
  grid: {-Q2: I}
  island: {-Q2: I, running: [-T1, -T2]}
  bypass: {-Q2: II, running: [supply]}
)");
  CHECK(silent(all));
}

TEST_CASE("bypass all together: an output switched by a contact of unknown position is open") {
  std::string site(rule.example);
  site.replace(site.find("    -Q2: {device"), 4,
               "    -Q3: {device: changeover I-II 63 A 2P by hand}\n    ");
  site.replace(site.find("-F24 C32 2P, -WB3"), 17, "-F24 C32 2P, -Q3:I]\n    - [-Q3, -WB3");
  site.replace(site.find("grid: {"), 7, "grid: {-Q3: I, ");
  site.replace(site.find("island: {"), 9, "island: {-Q3: I, ");
  const auto all = verdicts(rule, site);
  CHECK(says(all, Outcome::open, "-T2", "bypass"));
  CHECK(broken_ones(all).empty());
}

}  // namespace
}  // namespace linewright::tests
