#include <string>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule fire_protection_300ma;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> ask(const std::string& yaml) {
  return verdicts(rules::fire_protection_300ma, yaml);
}

std::string farm(const std::string& feeder, const std::string& barn, const std::string& keys = "") {
  return R"(site: {name: Farm}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Barn, feeds: +A2, device: )" +
         feeder + R"(, cable: 3×10 mm² 40 m}
  +A2:
)" + barn +
         R"(    circuits:
      - {id: -F2, name: Fan, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: fixed)" +
         keys + R"(}
      - {id: -F3, name: Light, device: B6 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}
)";
}

const std::string at_risk = "    fire risk: yes\n";

TEST_CASE("fire: an RCD of 300 mA at the head of the feeder covers a barn, 301 mA do not") {
  CHECK(sound(ask(farm("C32 2P 300 mA type A S", at_risk))));
  CHECK(broken_ones(ask(farm("C32 2P 301 mA type A S", at_risk))).size() >= 1);
}

TEST_CASE("fire: RCDs in the barn's own board do not cover the way there: one finding") {
  const auto report = report_on(farm("C32 2P", at_risk));
  REQUIRE(report.findings.size() == 1);
  CHECK(report.findings.front().rule == "rcd/fire-protection-300ma");
  CHECK(report.findings.front().element == "+A2");
  CHECK(report.findings.front().severity == Severity::advice);
  CHECK(report.findings.front().message == "the way to '+A2' has no RCD of 300 mA or less");
}

TEST_CASE("fire: a circuit at risk is covered by its own RCD") {
  CHECK(sound(ask(farm("C32 2P", "", ", fire risk: yes"))));
}

TEST_CASE("fire: an RCD of unknown residual current is open, not a pass") {
  CHECK_FALSE(open_ones(ask(farm("C32 2P type A S", at_risk))).empty());
}

TEST_CASE("fire: where nobody said, a way without RCD becomes a question for the site") {
  const std::string bare = with(farm("C32 2P", ""), "30 mA type A, cable: 3×2.5", "cable: 3×2.5");
  const std::string quiet = with(bare, "B16 1P+N cable", "B16 1P+N, cable");
  const auto all = ask(quiet);
  CHECK(broken_ones(all).empty());
  CHECK(questions_of(all).size() == 1);
  CHECK(silent(ask(with(quiet, "use: fixed", "use: fixed, fire risk: no"))));
}

}  // namespace
}  // namespace linewright::tests
