#include <fmt/core.h>

#include "check/run.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "findings/json.hpp"
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
    print_error(fmt::format("no rule '{}'; 'linewright explain' lists them all\n", command.rule));
    return unreadable;
  }
  if (command.format == Format::json) return explain_as_json(rule);
  print_out(rule == nullptr ? rules::rule_list() : *rules::explain(rule->id));
  return clean;
}

}  // namespace linewright::cli
