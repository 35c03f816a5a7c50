#include "findings/sarif.hpp"

#include <algorithm>
#include <array>

#include <nlohmann/json.hpp>

#include "findings/text.hpp"

namespace linewright::findings {
namespace {

using Json = nlohmann::ordered_json;

// SARIF 2.1.0 (OASIS Standard, 27 March 2020) as far as it is used here: 3.27.9 kind, 3.27.10 level
// ("none" unless the kind is "fail"), 3.14.17 columnKind, 3.30 region.

std::string dumped(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

/// A file name as a relative URI reference: every byte but the unreserved ones and "/" is escaped.
std::string uri(std::string_view file) {
  constexpr std::string_view plain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/";
  constexpr std::array<char, 17> hex{"0123456789ABCDEF"};
  std::string text;
  for (const char c : file) {
    if (plain.find(c) != std::string_view::npos) {
      text += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      text += {'%', hex[byte >> 4U], hex[byte & 0x0FU]};
    }
  }
  return text;
}

std::string_view level_of(Severity severity) {
  switch (severity) {
    case Severity::danger:
      return "error";
    case Severity::breach:
      return "warning";
    case Severity::advice:
      break;
  }
  return "note";
}

Json location(std::string_view file, const Place& place) {
  Json physical{{"artifactLocation", {{"uri", uri(file)}}}};
  if (place.known()) {
    physical["region"] = {{"startLine", place.line},
                          {"startColumn", place.column},
                          {"endColumn", place.column + std::max(place.length, 1)}};
  }
  return {{"physicalLocation", std::move(physical)}};
}

Json located(std::string_view file, const Place& place, std::string_view element) {
  Json json = location(file, place);
  if (!element.empty()) {
    json["logicalLocations"] = Json::array({{{"name", element}, {"kind", "element"}}});
  }
  return json;
}

Json related(std::string_view file, const std::vector<Note>& notes) {
  Json list = Json::array();
  for (const Note& note : notes) {
    Json one = location(file, note.where);
    one["message"] = {{"text", note.text}};
    list.push_back(std::move(one));
  }
  return list;
}

/// The id, and where the rule stands in the list of rules.
Json rule_reference(std::span<const RuleText> rules, std::string_view id) {
  Json json{{"ruleId", id}};
  const auto rule = std::ranges::find(rules, id, &RuleText::id);
  if (rule != rules.end()) json["ruleIndex"] = rule - rules.begin();
  return json;
}

Json finding_result(const Report& report, const Finding& finding, std::span<const RuleText> rules) {
  Json json = rule_reference(rules, finding.rule);
  json["kind"] = "fail";
  json["level"] = level_of(finding.severity);
  std::string text = finding.message + ".";
  if (!finding.remedy.empty()) text += " To mend: " + finding.remedy + ".";
  json["message"] = {{"text", text}};
  json["locations"] = Json::array({located(report.file, finding.where, finding.element)});
  if (!finding.notes.empty()) json["relatedLocations"] = related(report.file, finding.notes);
  json["properties"] = {{"severity", name_of(finding.severity)},
                        {"state", finding.state},
                        {"clauses", finding.clauses}};
  return json;
}

Json open_result(const Report& report, const OpenPoint& point, std::span<const RuleText> rules) {
  Json json = rule_reference(rules, point.rule);
  json["kind"] = "open";
  json["level"] = "none";
  json["message"] = {{"text", point.message + ". Missing: " + point.missing + "."}};
  json["locations"] = Json::array({located(report.file, point.where, point.element)});
  json["properties"] = {{"severity", name_of(point.severity)}, {"state", point.state}};
  return json;
}

Json rules_json(std::span<const RuleText> rules) {
  Json list = Json::array();
  for (const RuleText& rule : rules) {
    list.push_back({{"id", rule.id},
                    {"shortDescription", {{"text", rule.must_hold}}},
                    {"fullDescription", {{"text", rule.why}}},
                    {"defaultConfiguration", {{"level", level_of(rule.severity)}}}});
  }
  return list;
}

Json log_of(Json rules, Json results, Json invocation, std::string_view version) {
  Json driver{{"name", "linewright"}, {"version", version}, {"rules", std::move(rules)}};
  Json run{{"tool", {{"driver", std::move(driver)}}},
           {"invocations", Json::array({std::move(invocation)})},
           {"columnKind", "unicodeCodePoints"},
           {"results", std::move(results)},
           {"properties", {{"caution", caution}}}};
  return {{"$schema", "https://json.schemastore.org/sarif-2.1.0.json"},
          {"version", "2.1.0"},
          {"runs", Json::array({std::move(run)})}};
}

}  // namespace

std::string reports_sarif(std::span<const Report> reports, std::span<const RuleText> rules,
                          std::string_view version) {
  Json results = Json::array();
  for (const Report& report : reports) {
    for (const Finding& finding : report.findings) {
      results.push_back(finding_result(report, finding, rules));
    }
    for (const OpenPoint& point : report.open) {
      results.push_back(open_result(report, point, rules));
    }
  }
  return dumped(
      log_of(rules_json(rules), std::move(results), {{"executionSuccessful", true}}, version));
}

std::string mistakes_sarif(std::string_view file, std::span<const Mistake> mistakes,
                           std::string_view version) {
  Json notifications = Json::array();
  for (const Mistake& mistake : mistakes) {
    std::string text = mistake.message + ".";
    if (!mistake.mend.empty()) text += " " + mistake.mend + ".";
    notifications.push_back({{"level", "error"},
                             {"message", {{"text", text}}},
                             {"locations", Json::array({location(file, mistake.where)})}});
  }
  Json invocation{{"executionSuccessful", false},
                  {"toolExecutionNotifications", std::move(notifications)}};
  return dumped(log_of(Json::array(), Json::array(), std::move(invocation), version));
}

}  // namespace linewright::findings
