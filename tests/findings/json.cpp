#include "findings/json.hpp"

#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace linewright;
using namespace linewright::findings;
using nlohmann::json;

namespace {

Report sample() {
  Report report;
  report.file = "lodge.yaml";
  report.site = "Lodge \"B\"";
  report.profile = "GB";
  report.findings.push_back({.rule = "rcd/type-for-ev",
                             .severity = Severity::breach,
                             .element = "-F7",
                             .state = "grid",
                             .message = "type AC, must be B",
                             .why = "why",
                             .remedy = "mend",
                             .clauses = {"one", "two"},
                             .where = {7, 9, 3},
                             .notes = {{{2, 1, 1}, "here"}}});
  report.open.push_back({.rule = "rcd/selectivity",
                         .element = "-F1",
                         .state = "island",
                         .message = "no delay",
                         .missing = "the delay"});
  report.counts = {.rules = 40, .hold = 30, .broken = 1, .open = 2, .not_relevant = 7};
  return report;
}

}  // namespace

TEST_CASE("json: a report carries every field of its findings and open points") {
  const json out = json::parse(report_json(sample(), "1.2.3"));
  CHECK(out["tool"] == "linewright");
  CHECK(out["version"] == "1.2.3");
  CHECK(out["site"] == "Lodge \"B\"");
  CHECK(out["profile"] == "GB");
  const json finding = json::parse(R"({"rule": "rcd/type-for-ev", "severity": "breach",
    "element": "-F7", "state": "grid", "message": "type AC, must be B", "why": "why",
    "remedy": "mend", "clauses": ["one", "two"], "file": "lodge.yaml", "line": 7, "column": 9,
    "notes": [{"message": "here", "file": "lodge.yaml", "line": 2, "column": 1}], "edits": []})");
  CHECK(out["findings"] == json::array({finding}));
  CHECK(out["open"][0]["missing"] == "the delay");
  CHECK(out["open"][0]["line"].is_null());
  CHECK(out["counts"]["breach"] == 1);
  CHECK(out["counts"]["danger"] == 0);
  CHECK(out["counts"]["open"] == 1);
  CHECK(out["counts"]["rules"]["not_relevant"] == 7);
  CHECK(out["caution"] == caution);
}

TEST_CASE("json: broken UTF-8 in a message does not break the output") {
  Report report = sample();
  report.findings[0].message = "bad \xff byte";
  CHECK(json::parse(report_json(report, "1"))["findings"][0]["message"] == "bad \uFFFD byte");
}

TEST_CASE("json: mistakes of an unreadable file are listed with their places") {
  const Mistake mistakes[] = {{.where = {3, 4, 2}, .message = "unknown word", .mend = "known one"}};
  const json out = json::parse(mistakes_json("x.yaml", mistakes, "1"));
  CHECK(out["mistakes"][0]["message"] == "unknown word");
  CHECK(out["mistakes"][0]["column"] == 4);
  CHECK_FALSE(out.contains("findings"));
}

TEST_CASE("json: questions for the site and edits of a finding are kept as data") {
  Report report = sample();
  report.questions = {{.rule = "rcd/test-on-site",
                       .element = "-F1",
                       .state = "island",
                       .question = "does it open",
                       .expected = "within 300 ms",
                       .where = {4, 2, 3}}};
  report.findings.front().edits = {
      DeviceWords{"-Q1", "4P"},
      KeyValue{"-T1", "bond", "closes in island"},
      NewInterlock{{{"-Q1", "II", {}}, {"-T1", "closed", "bond"}}, "key"},
      StatePosition{"off", {"-Q1", "0", {}}},
      NewDevice{"-Q1", NewDevice::Side::ahead, "RCD 63 A 4P"},
      NewLink{"-G2", {"generator"}}};
  const json out = json::parse(report_json(report, "0.1.0"));
  const json& question = out["to_confirm"].at(0);
  CHECK(question["question"] == "does it open");
  CHECK(question["expected"] == "within 300 ms");
  CHECK(question["state"] == "island");
  CHECK(question["line"] == 4);
  CHECK(out["counts"]["to_confirm"] == 1);
  CHECK(
      out["findings"].at(0)["edits"] ==
      json({"-Q1: 4P", "-T1: bond: closes in island",
            "interlock, key: never together -Q1 II, -T1:bond closed", "state off: -Q1 0",
            "ahead of -Q1: RCD 63 A 4P", "link of neutral and earth at -G2, closed in generator"}));
}
