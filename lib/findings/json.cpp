#include "findings/json.hpp"

#include <nlohmann/json.hpp>

#include "findings/text.hpp"

namespace linewright::findings {
namespace {

using Json = nlohmann::ordered_json;

/// Broken UTF-8, which the library would throw at, is replaced.
std::string dumped(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

/// Adds file, line and column. What stands nowhere in the file has line and column null.
void add_place(Json& json, std::string_view file, const Place& place) {
  json["file"] = file;
  json["line"] = place.known() ? Json(place.line) : Json();
  json["column"] = place.known() ? Json(place.column) : Json();
}

Json notes_json(std::string_view file, const std::vector<Note>& notes) {
  Json list = Json::array();
  for (const Note& note : notes) {
    Json json{{"message", note.text}};
    add_place(json, file, note.where);
    list.push_back(std::move(json));
  }
  return list;
}

Json finding_json(std::string_view file, const Finding& finding) {
  Json json{{"rule", finding.rule},       {"severity", name_of(finding.severity)},
            {"element", finding.element}, {"state", finding.state},
            {"message", finding.message}, {"why", finding.why},
            {"remedy", finding.remedy},   {"clauses", finding.clauses}};
  add_place(json, file, finding.where);
  json["notes"] = notes_json(file, finding.notes);
  json["edits"] = Json::array();
  for (const Edit& edit : finding.edits)
    json["edits"].push_back(words_of(edit));
  return json;
}

Json question_json(std::string_view file, const Question& question) {
  Json json{{"rule", question.rule},         {"severity", name_of(question.severity)},
            {"element", question.element},   {"state", question.state},
            {"question", question.question}, {"expected", question.expected}};
  add_place(json, file, question.where);
  return json;
}

Json open_json(std::string_view file, const OpenPoint& point) {
  Json json{{"rule", point.rule},       {"severity", name_of(point.severity)},
            {"element", point.element}, {"state", point.state},
            {"message", point.message}, {"missing", point.missing}};
  add_place(json, file, point.where);
  return json;
}

Json counts_json(const Report& report) {
  int dangers = 0;
  int breaches = 0;
  int advice = 0;
  for (const Finding& finding : report.findings) {
    if (finding.severity == Severity::danger) ++dangers;
    if (finding.severity == Severity::breach) ++breaches;
    if (finding.severity == Severity::advice) ++advice;
  }
  const RuleCounts& rules = report.counts;
  return Json{{"danger", dangers},
              {"breach", breaches},
              {"advice", advice},
              {"open", report.open.size()},
              {"to_confirm", report.questions.size()},
              {"rules",
               {{"all", rules.rules},
                {"hold", rules.hold},
                {"broken", rules.broken},
                {"open", rules.open},
                {"not_relevant", rules.not_relevant},
                {"to_confirm", rules.to_confirm}}}};
}

}  // namespace

std::string report_json(const Report& report, std::string_view version) {
  Json json{
      {"tool", "linewright"},  {"version", version},          {"file", report.file},
      {"site", report.site},   {"profile", report.profile},   {"findings", Json::array()},
      {"open", Json::array()}, {"to_confirm", Json::array()}, {"not_checked", report.not_checked}};
  for (const Finding& finding : report.findings) {
    json["findings"].push_back(finding_json(report.file, finding));
  }
  for (const OpenPoint& point : report.open) {
    json["open"].push_back(open_json(report.file, point));
  }
  for (const Question& question : report.questions) {
    json["to_confirm"].push_back(question_json(report.file, question));
  }
  json["counts"] = counts_json(report);
  json["caution"] = caution;
  return dumped(json);
}

std::string mistakes_json(std::string_view file, std::span<const Mistake> mistakes,
                          std::string_view version) {
  Json json{{"tool", "linewright"}, {"version", version}, {"file", file}};
  json["mistakes"] = Json::array();
  for (const Mistake& mistake : mistakes) {
    Json one{{"message", mistake.message}, {"mend", mistake.mend}};
    add_place(one, file, mistake.where);
    one["notes"] = notes_json(file, mistake.notes);
    json["mistakes"].push_back(std::move(one));
  }
  json["caution"] = caution;
  return dumped(json);
}

std::string rules_json(std::span<const RuleWords> rules) {
  Json list = Json::array();
  for (const RuleWords& rule : rules)
    list.push_back({{"id", rule.id},
                    {"severity", name_of(rule.severity)},
                    {"must_hold", rule.must_hold},
                    {"why", rule.why},
                    {"clauses", rule.clauses},
                    {"example", rule.example}});
  return dumped(Json{{"rules", std::move(list)}});
}

std::string json_string(std::string_view text) {
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string json_strings(const std::vector<std::string>& texts) {
  std::string list = "[";
  for (std::size_t i = 0; i < texts.size(); ++i)
    list += (i == 0 ? "" : ", ") + json_string(texts[i]);
  return list + "]";
}

}  // namespace linewright::findings
