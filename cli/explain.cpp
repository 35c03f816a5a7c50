#include <fmt/core.h>

#include "check/run.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "findings/json.hpp"
#include "input/nearest.hpp"
#include "rules/reference.hpp"
#include "rules/registry.hpp"

namespace linewright::cli {
namespace {

findings::RuleWords words_of(const check::Rule& rule) {
  findings::RuleWords words{.id = std::string(rule.id),
                            .severity = rule.severity,
                            .must_hold = std::string(rule.must_hold),
                            .why = std::string(rule.why),
                            .clauses = check::shown_clauses(rule),
                            .example = std::string(rule.example)};
  return words;
}

/// "; did you mean 'rcd/selectivity'?", or nothing where no rule is near.
std::string nearest_words(const std::string& wanted) {
  std::vector<std::string_view> ids;
  for (const check::Rule* rule : rules::all_rules())
    ids.push_back(rule->id);
  const auto near = input::nearest(wanted, ids);
  return near.empty() ? std::string() : fmt::format("; did you mean '{}'?", near.front());
}

int explain_as_json(const check::Rule* one) {
  std::vector<findings::RuleWords> words;
  if (one != nullptr) {
    words.push_back(words_of(*one));
  } else {
    for (const check::Rule* rule : rules::all_rules())
      words.push_back(words_of(*rule));
  }
  print_out(findings::rules_json(words));
  return clean;
}

}  // namespace

int explain(const ExplainCommand& command) {
  const check::Rule* rule = rules::find_rule(command.rule);
  if (!command.rule.empty() && rule == nullptr) {
    print_error(fmt::format("no rule '{}'{}; 'linewright explain' lists them all\n", command.rule,
                            nearest_words(command.rule)));
    return unreadable;
  }
  if (command.format == Format::json) return explain_as_json(rule);
  print_out(rule == nullptr ? rules::rule_list() : *rules::explain(rule->id));
  return clean;
}

}  // namespace linewright::cli
