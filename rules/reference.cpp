#include "rules/reference.hpp"

#include <algorithm>
#include <map>
#include <vector>

#include <fmt/core.h>

#include "check/run.hpp"
#include "findings/text.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"

namespace linewright::rules {
namespace {

using check::Profile;
using check::Rule;

constexpr std::size_t text_width = 80;

std::string_view word(check::Confirmation confirmation) {
  switch (confirmation) {
    case check::Confirmation::confirmed:
      return "confirmed";
    case check::Confirmation::partly:
      return "confirmed in part";
    case check::Confirmation::memory:
      return "from memory, to be confirmed";
  }
  return "";
}

std::string_view family(const Rule& rule) {
  return rule.id.substr(0, rule.id.find('/'));
}
std::string_view name(const Rule& rule) {
  return rule.id.substr(rule.id.find('/') + 1);
}

std::vector<const Rule*> by_family() {
  const auto all = all_rules();
  std::vector<const Rule*> rules(all.begin(), all.end());
  std::ranges::sort(rules, {}, &Rule::id);
  return rules;
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts)
    text += (text.empty() ? "" : std::string(between)) + part;
  return text;
}

/// Names of the profiles in which a key has a value, by that value with its source.
struct NationalValue {
  std::string text;
  std::string source;
  check::Confirmation status = check::Confirmation::memory;
  std::vector<std::string> profiles;
};

std::vector<NationalValue> values_of(std::string_view key) {
  std::vector<NationalValue> values;
  for (const std::string& country : profile_names()) {
    const Result<Profile> profile = rules::profile(country);
    if (!profile) continue;
    const check::ProfileValue* value = profile->find(key);
    if (value == nullptr) continue;
    const auto same = std::ranges::find_if(values, [&](const NationalValue& other) {
      return other.text == value->text && other.source == value->source;
    });
    if (same != values.end())
      same->profiles.push_back(country);
    else
      values.push_back({value->text, value->source, value->status, {country}});
  }
  return values;
}

/// Words folded into lines of the width, each after the first indented.
std::string folded(std::string_view text, std::size_t indent) {
  std::string lines;
  std::size_t column = indent;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string_view one = text.substr(0, end);
    if (column > indent && column + 1 + one.size() > text_width) {
      lines += "\n" + std::string(indent, ' ');
      column = indent;
    }
    if (column > indent) lines += ' ';
    column += one.size() + (column > indent ? 1 : 0);
    lines += one;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string indented(std::string_view text, std::string_view by) {
  std::string lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines += fmt::format("{}{}\n", end == 0 ? "" : by, text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string with_status(const NationalValue& value) {
  if (value.source.starts_with("from memory")) return value.source;
  return fmt::format("{} ({})", value.source, word(value.status));
}

std::string value_table(const Rule& rule) {
  if (rule.profile_keys.empty()) return {};
  std::string table =
      "\n| national value | is | in profiles | source |\n| --- | --- | --- | --- |\n";
  for (const std::string_view key : rule.profile_keys) {
    const auto values = values_of(key);
    if (values.empty()) table += fmt::format("| {} | no profile gives it | | |\n", key);
    for (const NationalValue& value : values)
      table += fmt::format("| {} | {} | {} | {} |\n", key, value.text, joined(value.profiles, ", "),
                           with_status(value));
  }
  return table;
}

std::string section(const Rule& rule) {
  return fmt::format(
      "\n### {}\n\n`{}` · {}\n\n**Must hold** {}\n\n**Why** {}\n\n**Written in** {} · {}\n{}\n"
      "**The smallest site that breaks it**\n\n```yaml\n{}```\n",
      name(rule), rule.id, findings::name_of(rule.severity), rule.must_hold, rule.why,
      joined(check::shown_clauses(rule), "; "), word(rule.confirmation), value_table(rule),
      rule.example);
}

std::string overview(const std::vector<const Rule*>& rules) {
  std::map<std::string_view, std::map<Severity, int>> counts;
  for (const Rule* rule : rules)
    ++counts[family(*rule)][rule->severity];
  std::string table = "| family | danger | breach | advice |\n| --- | --- | --- | --- |\n";
  for (auto& [one, by_severity] : counts)
    table += fmt::format("| [{}](#{}) | {} | {} | {} |\n", one, one, by_severity[Severity::danger],
                         by_severity[Severity::breach], by_severity[Severity::advice]);
  return table;
}

std::string national_lines(const Rule& rule) {
  std::string lines;
  for (const std::string_view key : rule.profile_keys) {
    std::vector<std::pair<std::string, std::vector<std::string>>> by_text;
    for (const NationalValue& value : values_of(key)) {
      const auto same = std::ranges::find_if(
          by_text, [&](const auto& other) { return other.first == value.text; });
      auto& profiles = same != by_text.end()
                           ? same->second
                           : by_text.emplace_back(value.text, std::vector<std::string>{}).second;
      profiles.insert(profiles.end(), value.profiles.begin(), value.profiles.end());
    }
    std::vector<std::string> values;
    for (const auto& [text, profiles] : by_text)
      values.push_back(fmt::format("{} in {}", text, joined(profiles, ", ")));
    lines += "            " +
             folded(fmt::format("{}: {}", key,
                                values.empty() ? "no profile gives it" : joined(values, "; ")),
                    12) +
             "\n";
  }
  if (!lines.empty()) lines.replace(0, 12, "national:   ");
  return lines;
}

}  // namespace

const Rule* find_rule(std::string_view id) {
  const Rule* found = nullptr;
  for (const Rule* rule : all_rules()) {
    if (rule->id == id) return rule;
    if (name(*rule) != id) continue;
    if (found != nullptr) return nullptr;
    found = rule;
  }
  return found;
}

std::string rule_reference() {
  const auto rules = by_family();
  std::string text = fmt::format(
      "# The rules\n\n"
      "Printed from the rules themselves (`cmake --build build/release -t approve` writes it "
      "anew); do not edit.\n\n"
      "There are {}. Each is decided on the conductors of the site, in every named state. It ends "
      "as *holds*,\n*broken*, *open* (a value is missing, and is named) or *not relevant*. The "
      "severity is what a broken rule\nmeans: **danger**, somebody can be killed or a fire can "
      "start; **breach**, a standard is not kept; **advice**,\ngood practice. A rule may tell a "
      "lesser case at a lesser severity.\n\n{}",
      rules.size(), overview(rules));
  std::string_view last;
  for (const Rule* rule : rules) {
    if (family(*rule) != last) text += fmt::format("\n## {}\n", family(*rule));
    last = family(*rule);
    text += section(*rule);
  }
  return text;
}

std::optional<std::string> explain(std::string_view id) {
  const Rule* rule = find_rule(id);
  if (rule == nullptr) return std::nullopt;
  return fmt::format(
      "{} ({})\n\nmust hold:  {}\nwhy:        {}\nwritten in: {}\n            {}\n{}\n"
      "The smallest site that breaks it:\n\n{}",
      rule->id, findings::name_of(rule->severity), folded(rule->must_hold, 12),
      folded(rule->why, 12), folded(joined(check::shown_clauses(*rule), "; "), 12),
      word(rule->confirmation), national_lines(*rule), indented(rule->example, "    "));
}

std::string rule_list() {
  std::string text;
  std::string_view last;
  for (const Rule* rule : by_family()) {
    if (!last.empty() && family(*rule) != last) text += "\n";
    last = family(*rule);
    text += fmt::format("{} ({})\n    {}\n", rule->id, findings::name_of(rule->severity),
                        folded(rule->must_hold, 4));
  }
  return text;
}

}  // namespace linewright::rules
