// How verdicts become a report.
#include "check/run.hpp"

#include <catch2/catch.hpp>

#include "rules/profile_data.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

constexpr std::string_view three_states = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q1 switch-disconnector 63 A 2P]}
states: {grid: {}, works: {kind: other, -Q1: open}, off: {-Q1: open}}
)";

Report report_of(std::vector<Verdict> (*check)(const check::AnalysedSite&)) {
  const site::Site site = site_from(three_states);
  const check::Profile profile = *rules::profile(site.profile);
  const check::Rule rule{.id = "test/rule", .clauses = {}, .profile_keys = {}, .check = check};
  const check::Rule* const only = &rule;
  return check::run(check::analyse(site, profile), {&only, 1});
}

TEST_CASE("run: a question for the site is neither a finding nor an open point nor a rule kept") {
  const Report report = report_of([](const check::AnalysedSite& site) {
    return std::vector<Verdict>{holds(site.about(0)),
                                asks(site.about(0), "does it open", "within 300 ms")};
  });
  CHECK(report.findings.empty());
  CHECK(report.open.empty());
  REQUIRE(report.questions.size() == 1);
  CHECK(report.questions[0].rule == "test/rule");
  CHECK(report.questions[0].question == "does it open");
  CHECK(report.questions[0].expected == "within 300 ms");
  CHECK(report.counts.to_confirm == 1);
  CHECK(report.counts.hold == 0);
}

TEST_CASE("run: a rule that is broken or open counts as such, whatever it asks besides") {
  const Report broken_too = report_of([](const check::AnalysedSite& site) {
    return std::vector<Verdict>{asks(site.about(0), "does it open", "yes"),
                                broken(site.about(0), "no", "mend")};
  });
  CHECK(broken_too.counts.broken == 1);
  CHECK(broken_too.counts.to_confirm == 0);
  const Report open_too = report_of([](const check::AnalysedSite& site) {
    return std::vector<Verdict>{asks(site.about(0), "does it open", "yes"),
                                open(site.about(0), "whether", "key")};
  });
  CHECK(open_too.counts.open == 1);
  CHECK(open_too.counts.to_confirm == 0);
}

TEST_CASE("run: the same question in several states is asked once, another answer apart") {
  const Report report = report_of([](const check::AnalysedSite& site) {
    std::vector<Verdict> all;
    for (const auto& state : site.states)
      all.push_back(
          asks(site.about(0, &state), "which reading", state.name() == "off" ? "0 V" : "230 V"));
    return all;
  });
  REQUIRE(report.questions.size() == 2);
  CHECK(report.questions[0].state == "grid, works");
  CHECK(report.questions[1].state == "off");
}

TEST_CASE("run: a finding told once for several states keeps the edits of all of them") {
  const Report report = report_of([](const check::AnalysedSite& site) {
    std::vector<Verdict> all;
    for (const auto& state : site.states)
      all.push_back(
          mended_by(broken(site.about(0, &state), "stands wrong", "move it"),
                    {StatePosition{state.name(), {"-Q1", "open", {}}}, DeviceWords{"-Q1", "4P"}}));
    return all;
  });
  REQUIRE(report.findings.size() == 1);
  CHECK(report.findings[0].edits.size() == 4);  // three positions, the words once
}

}  // namespace
}  // namespace linewright::tests
