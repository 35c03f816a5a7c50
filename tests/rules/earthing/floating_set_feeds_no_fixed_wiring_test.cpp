#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule floating_set_feeds_no_fixed_wiring;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::floating_set_feeds_no_fixed_wiring, yaml, profile);
}

constexpr std::string_view tool = R"(
generators:
  -G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, winding: line-neutral, fixed: no, own rcd: no}
boards:
  +A1:
    feed: [-G1]
    circuits:
      - {id: -F1, name: Tool, device: B10 2P, cable: 2×1.5 mm² 5 m, use: separated, items: 1, class two: yes}
states:
  generator: {running: [-G1]}
)";

TEST_CASE("floating set: one double insulated item holds") {
  CHECK(sound(judged(tool)));
}

TEST_CASE("floating set: fixed circuits beside the item are a danger, said once") {
  const auto all = judged(rules::floating_set_feeds_no_fixed_wiring.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-G1");
  REQUIRE(broken_ones(all).front().notes.size() == 1);
  CHECK(broken_ones(all).front().notes.front().text ==
        "'Hut heater' is not protected by separation");
  const Report report = report_on(rules::floating_set_feeds_no_fixed_wiring.example);
  for (const Finding& finding : report.findings)
    CHECK(finding.rule != "earthing/generator-with-switched-neutral");
}

TEST_CASE("floating set: one item holds, two are a breach") {
  const auto two = judged(with(tool, "items: 1", "items: 2"));
  REQUIRE(broken_ones(two).size() == 1);
  CHECK(broken_ones(two).front().severity == Severity::breach);
  CHECK(rules_broken(report_on(with(tool, "items: 1", "items: 2"))) ==
        "earthing/floating-set-feeds-no-fixed-wiring");
}

TEST_CASE("floating set: an item with an earthed case is a breach") {
  CHECK(says(judged(with(tool, "class two: yes", "class two: no")), Outcome::broken, "-G1",
             "generator"));
}

TEST_CASE("floating set: items that the file does not count are open") {
  const auto all = judged(with(tool, "items: 1, ", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'items' and 'class two' of what it feeds");
}

TEST_CASE("floating set: one with its neutral joined to earth is not asked") {
  CHECK(silent(
      judged(with(with(tool, "neutral: floating", "neutral: linked"), "items: 1", "items: 5"))));
}

TEST_CASE("floating set: with circuits of a building alone, the missing joint is another rule's") {
  const auto site = with(tool, "use: separated, items: 1, class two: yes", "use: sockets");
  CHECK(silent(judged(site)));
}

TEST_CASE("floating set: an inverter that serves single items is judged alike") {
  const auto site = with(with(with(tool, "generators:", "inverters:"),
                              "-G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, winding: "
                              "line-neutral, fixed: no, own rcd: no}",
                              "-G1: {kind: battery, phases: 1, grid: forming, bond: none}"),
                         "items: 1", "items: 3");
  CHECK(says(judged(site), Outcome::broken, "-G1", "generator"));
  CHECK(rules_broken(report_on(site)) == "earthing/floating-set-feeds-no-fixed-wiring");
}

}  // namespace
}  // namespace linewright::tests
