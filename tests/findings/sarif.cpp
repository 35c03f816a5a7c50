#include "findings/sarif.hpp"

#include <cstdlib>
#include <fstream>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "support/paths.hpp"

using namespace linewright;
using namespace linewright::findings;
using nlohmann::json;

namespace {

Report sample() {
  Report report;
  report.file = "my site/über.yaml";
  report.findings.push_back({.rule = "a/second",
                             .severity = Severity::danger,
                             .element = "-F7",
                             .message = "found",
                             .remedy = "mend it",
                             .where = {7, 9, 3},
                             .notes = {{{2, 1, 1}, "here"}}});
  report.open.push_back({.rule = "a/unlisted", .message = "undecided", .missing = "a value"});
  return report;
}

const RuleText rules[] = {{.id = "a/first", .must_hold = "One.", .why = "Because."},
                          {.id = "a/second", .must_hold = "Two.", .why = "Because."}};

/// True when the validator in the package list accepts the log by the schema of the standard.
bool is_valid(const std::string& log) {
  const std::string file = linewright::tests::build_folder() + "/sarif-under-test.json";
  std::ofstream(file) << log;
  const std::string schema =
      linewright::tests::source_folder() + "/tests/findings/data/sarif-2.1.0-rtm.5.json";
  const std::string command =
      fmt::format("python3 -W ignore -m jsonschema -i '{}' '{}'", file, schema);
  return std::system(command.c_str()) == 0;
}

}  // namespace

TEST_CASE("sarif: findings fail and open points are open, never passed") {
  const Report report = sample();
  const json log = json::parse(reports_sarif({&report, 1}, rules, "1"));
  const json& run = log["runs"][0];
  CHECK(log["version"] == "2.1.0");
  CHECK(run["columnKind"] == "unicodeCodePoints");
  REQUIRE(run["results"].size() == 2);
  const json& failed = run["results"][0];
  CHECK(failed["kind"] == "fail");
  CHECK(failed["level"] == "error");
  CHECK(failed["ruleIndex"] == 1);
  CHECK(failed["message"]["text"] == "found. To mend: mend it.");
  const json& undecided = run["results"][1];
  CHECK(undecided["kind"] == "open");
  CHECK(undecided["level"] == "none");
  CHECK_FALSE(undecided.contains("ruleIndex"));
}

TEST_CASE("sarif: places carry an escaped address and a span of characters") {
  const Report report = sample();
  const json log = json::parse(reports_sarif({&report, 1}, rules, "1"));
  const json& results = log["runs"][0]["results"];
  const json& physical = results[0]["locations"][0]["physicalLocation"];
  CHECK(physical["artifactLocation"]["uri"] == "my%20site/%C3%BCber.yaml");
  CHECK(physical["region"] ==
        json::parse(R"({"startLine": 7, "startColumn": 9, "endColumn": 12})"));
  CHECK(results[0]["relatedLocations"][0]["message"]["text"] == "here");
  CHECK_FALSE(results[1]["locations"][0]["physicalLocation"].contains("region"));
}

TEST_CASE("sarif: an unreadable file is a run that failed") {
  const Mistake mistakes[] = {{.where = {3, 4, 2}, .message = "unknown word"}};
  const json log = json::parse(mistakes_sarif("x.yaml", mistakes, "1"));
  const json& invocation = log["runs"][0]["invocations"][0];
  CHECK(invocation["executionSuccessful"] == false);
  CHECK(invocation["toolExecutionNotifications"][0]["message"]["text"] == "unknown word.");
}

TEST_CASE("sarif: a validator that is not ours accepts every log") {
  const Report report = sample();
  const Mistake mistakes[] = {{.where = {3, 4, 2}, .message = "unknown word"}};
  CHECK(is_valid(reports_sarif({&report, 1}, rules, "1")));
  CHECK(is_valid(reports_sarif({}, {}, "1")));
  CHECK(is_valid(mistakes_sarif("x.yaml", mistakes, "1")));
  CHECK_FALSE(is_valid(R"({"version": "2.1.0"})"));
}
