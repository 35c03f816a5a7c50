#include "documents/changes.hpp"

#include <algorithm>
#include <set>
#include <tuple>

#include <fmt/core.h>

#include "findings/json.hpp"
#include "findings/text.hpp"

namespace linewright::documents {
namespace {

using site::Change;
using site::ChangedProperty;
using site::ChangeKind;

std::string_view word_of(ChangeKind kind) {
  switch (kind) {
    case ChangeKind::added:
      return "added";
    case ChangeKind::removed:
      return "removed";
    case ChangeKind::changed:
      break;
  }
  return "changed";
}

std::string heading_of(const Change& change) {
  const bool names_itself = change.name.starts_with(change.thing + " of ") ||
                            change.name.starts_with(change.thing + " '");
  std::string words = names_itself ? std::string() : change.thing;
  if (!change.name.empty()) words += (words.empty() ? "" : " ") + change.name;
  if (!change.words.empty() && change.name.find("'" + change.words + "'") == std::string::npos)
    words += " '" + change.words + "'";
  return words;
}

std::string or_not_said(const std::string& value) {
  return value.empty() ? "not said" : value;
}

std::string property_words(const Change& change, const ChangedProperty& property) {
  if (change.kind == ChangeKind::added) return property.name + " " + property.after;
  if (change.kind == ChangeKind::removed) return property.name + " " + property.before;
  if (property.name == "board")
    return fmt::format("moved from {} to {}",
                       property.before.empty() ? "no board" : property.before,
                       property.after.empty() ? "no board" : property.after);
  if (property.name == "joint from")
    return fmt::format("now fed from {}, was from {}", property.after, property.before);
  if (property.name == "joint to")
    return fmt::format("now leads to {}, was to {}", property.after, property.before);
  if (property.name == "from" || property.name == "to")
    return fmt::format("now leads {} {}, was {}", property.name, property.after, property.before);
  return fmt::format("{} {} → {}", property.name, or_not_said(property.before),
                     or_not_said(property.after));
}

// Of what comes or goes, people want to know what it is, not every value that goes without saying;
// the JSON has all of them.
bool goes_without_saying(const Change& change, const ChangedProperty& property) {
  if (change.kind == ChangeKind::changed) return false;
  const std::string& name = property.name;
  const std::string& value = change.kind == ChangeKind::added ? property.after : property.before;
  return name == "name" || name == "kind" || name == "conductors" ||
         (name == "at rest" && value == "closed") ||
         (name.ends_with("shed in island") && value == "no") ||
         (name.ends_with("dwelling") && value == "yes");
}

std::string place_words(const Changes& changes, const Change& change) {
  const bool gone = change.kind == ChangeKind::removed;
  const Place& where = gone ? change.before : change.after;
  const std::string& file = gone ? changes.old_file : changes.new_file;
  return where.known() ? fmt::format("{}:{}:{}", file, where.line, where.column) : file;
}

using FindingKey = std::tuple<std::string, std::string, std::string, std::string>;

FindingKey key_of(const Finding& finding) {
  return {finding.rule, finding.element, finding.state, finding.message};
}

std::vector<Finding> only_in(const Report& report, const Report& other) {
  std::multiset<FindingKey> there;
  for (const Finding& finding : other.findings)
    there.insert(key_of(finding));
  std::vector<Finding> rest;
  for (const Finding& finding : report.findings) {
    const auto same = there.find(key_of(finding));
    if (same == there.end())
      rest.push_back(finding);
    else
      there.erase(same);
  }
  return rest;
}

std::string findings_text(const std::vector<Finding>& findings, const std::string& file,
                          std::string_view heading) {
  if (findings.empty()) return {};
  std::string text = fmt::format("\n{}\n", heading);
  for (const Finding& finding : findings)
    text += fmt::format("  {}:{}:{}: {}: {} [{}]\n", file, finding.where.line, finding.where.column,
                        findings::name_of(finding.severity), finding.message, finding.rule);
  return text;
}

std::string place_json(const std::string& file, const Place& where) {
  return where.known() ? fmt::format(R"({{"file": {}, "line": {}, "column": {}}})",
                                     findings::json_string(file), where.line, where.column)
                       : "null";
}

std::string optional_json(const std::string& value) {
  return value.empty() ? "null" : findings::json_string(value);
}

std::string change_json(const Changes& changes, const Change& change, std::size_t number) {
  std::string properties;
  for (const ChangedProperty& property : change.properties)
    properties += fmt::format(R"({}{{"name": {}, "before": {}, "after": {}}})",
                              properties.empty() ? "" : ", ", findings::json_string(property.name),
                              optional_json(property.before), optional_json(property.after));
  return fmt::format(R"(    {{"number": {}, "what": "{}", "thing": {}, "name": {}, "words": {}, )"
                     R"("before": {}, "after": {}, "properties": [{}]}})",
                     number, word_of(change.kind), findings::json_string(change.thing),
                     optional_json(change.name), findings::json_string(change_words(change)),
                     place_json(changes.old_file, change.before),
                     place_json(changes.new_file, change.after), properties);
}

std::string finding_json(const Finding& finding, const std::string& file) {
  return fmt::format(
      R"(    {{"rule": {}, "severity": "{}", "element": {}, "state": {}, "message": {}, "where": {}}})",
      findings::json_string(finding.rule), findings::name_of(finding.severity),
      optional_json(finding.element), optional_json(finding.state),
      findings::json_string(finding.message), place_json(file, finding.where));
}

std::string json_list(const std::vector<std::string>& items) {
  if (items.empty()) return "[]";
  std::string text = "[\n";
  for (std::size_t i = 0; i < items.size(); ++i)
    text += items[i] + (i + 1 < items.size() ? ",\n" : "\n");
  return text + "  ]";
}

std::string findings_list(const std::vector<Finding>& findings, const std::string& file) {
  std::vector<std::string> items;
  for (const Finding& finding : findings)
    items.push_back(finding_json(finding, file));
  return json_list(items);
}

}  // namespace

Changes changes_between(const site::Version& before, const Report& old_report,
                        const site::Version& after, const Report& new_report) {
  Changes changes{.old_file = old_report.file,
                  .new_file = new_report.file,
                  .changes = site::difference(before, after),
                  .new_findings = {},
                  .gone_findings = {}};
  if (changes.changes.empty()) return changes;
  changes.new_findings = only_in(new_report, old_report);
  changes.gone_findings = only_in(old_report, new_report);
  return changes;
}

std::string change_words(const Change& change) {
  std::string words = heading_of(change);
  if (change.kind != ChangeKind::changed) words += fmt::format(" {}", word_of(change.kind));
  std::string properties;
  for (const ChangedProperty& property : change.properties)
    if (!goes_without_saying(change, property))
      properties += (properties.empty() ? "" : "; ") + property_words(change, property);
  return properties.empty() ? words : words + ": " + properties;
}

std::string changes_text(const Changes& changes) {
  const std::string both = changes.old_file + " → " + changes.new_file;
  if (changes.changes.empty()) return both + ": no difference\n";
  const std::size_t count = changes.changes.size();
  std::string text = fmt::format("{}: {} change{}\n", both, count, count == 1 ? "" : "s");
  for (std::size_t i = 0; i < count; ++i)
    text += fmt::format("  {}. {}: {}\n", i + 1, place_words(changes, changes.changes[i]),
                        change_words(changes.changes[i]));
  text += findings_text(changes.new_findings, changes.new_file, "Found now, not before:");
  text += findings_text(changes.gone_findings, changes.old_file, "Found before, not any more:");
  if (changes.new_findings.empty() && changes.gone_findings.empty())
    text += "\nThe check finds what it found before.\n";
  return text + fmt::format("{}\n", caution);
}

std::string changes_json(const Changes& changes) {
  std::vector<std::string> items;
  for (const Change& change : changes.changes)
    items.push_back(change_json(changes, change, items.size() + 1));
  return fmt::format(
      "{{\n  \"old\": {},\n  \"new\": {},\n  \"changes\": {},\n  \"found now\": {},\n"
      "  \"found before\": {}\n}}\n",
      findings::json_string(changes.old_file), findings::json_string(changes.new_file),
      json_list(items), findings_list(changes.new_findings, changes.new_file),
      findings_list(changes.gone_findings, changes.old_file));
}

}  // namespace linewright::documents
