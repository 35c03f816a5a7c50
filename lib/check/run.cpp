#include "check/run.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

namespace linewright::check {
namespace {

/// Two verdicts of one rule that differ in nothing but the state say the same thing once.
bool same_but_state(const Verdict& a, const Verdict& b) {
  return a.outcome == b.outcome && a.where == b.where && a.element == b.element &&
         a.message == b.message && a.missing == b.missing && a.severity == b.severity &&
         a.expected == b.expected && !a.state.empty() && !b.state.empty();
}

/// Adds the edits that are not there yet.
void add_missing(std::vector<Edit>& from, std::vector<Edit>& into) {
  for (Edit& edit : from)
    if (std::ranges::count(into, edit) == 0) into.push_back(std::move(edit));
}

/// Verdicts with what is the same said once; a state is named once.
class Merger {
 public:
  void add(Verdict verdict) {
    std::vector<std::size_t>& here = at_[{verdict.where, verdict.element}];
    const auto same = std::ranges::find_if(
        here, [&](std::size_t k) { return same_but_state(kept_[k], verdict); });
    if (same != here.end()) return add_state(*same, verdict);
    here.push_back(kept_.size());
    states_.push_back({verdict.state});
    kept_.push_back(std::move(verdict));
  }
  std::vector<Verdict> kept() && { return std::move(kept_); }

 private:
  void add_state(std::size_t k, Verdict& verdict) {
    add_missing(verdict.edits, kept_[k].edits);
    if (std::ranges::count(states_[k], verdict.state) > 0) return;
    states_[k].push_back(verdict.state);
    kept_[k].state += ", " + verdict.state;
  }

  std::vector<Verdict> kept_;
  std::vector<std::vector<std::string>> states_;  ///< of each kept one
  std::map<std::pair<Place, std::string>, std::vector<std::size_t>> at_;
};

std::vector<Verdict> merged(std::vector<Verdict> verdicts) {
  Merger merger;
  for (Verdict& verdict : verdicts)
    merger.add(std::move(verdict));
  return std::move(merger).kept();
}

Finding finding(const Rule& rule, const Verdict& verdict) {
  return {.rule = std::string(rule.id),
          .severity = verdict.severity.value_or(rule.severity),
          .element = verdict.element,
          .state = verdict.state,
          .message = verdict.message,
          .why = std::string(rule.why),
          .remedy = verdict.mend,
          .clauses = shown_clauses(rule),
          .where = verdict.where,
          .notes = verdict.notes,
          .edits = verdict.edits};
}

OpenPoint open_point(const Rule& rule, const Verdict& verdict) {
  return {.rule = std::string(rule.id),
          .severity = rule.severity,
          .element = verdict.element,
          .state = verdict.state,
          .message = verdict.message,
          .missing = verdict.missing,
          .where = verdict.where};
}

Question question(const Rule& rule, const Verdict& verdict) {
  return {.rule = std::string(rule.id),
          .severity = verdict.severity.value_or(rule.severity),
          .element = verdict.element,
          .state = verdict.state,
          .question = verdict.message,
          .expected = verdict.expected,
          .where = verdict.where};
}

void count(const std::vector<Verdict>& verdicts, RuleCounts& counts) {
  const auto any = [&](Outcome outcome) {
    return std::ranges::any_of(verdicts, [&](const Verdict& v) { return v.outcome == outcome; });
  };
  ++counts.rules;
  if (any(Outcome::broken))
    ++counts.broken;
  else if (any(Outcome::open))
    ++counts.open;
  else if (any(Outcome::to_confirm))
    ++counts.to_confirm;
  else if (any(Outcome::holds))
    ++counts.hold;
  else
    ++counts.not_relevant;
}

template <class T>
void sort_by_place(std::vector<T>& list) {
  std::ranges::stable_sort(list, [](const T& a, const T& b) {
    return std::tie(a.where, a.rule, a.element, a.state) <
           std::tie(b.where, b.rule, b.element, b.state);
  });
}

bool keeps_silent(const Rule& rule, const Report& report) {
  return std::ranges::any_of(report.findings, [&](const Finding& finding) {
    return std::ranges::count(rule.yields_to, finding.rule) > 0;
  });
}

/// What is left of the verdicts of a rule that yields: nothing that a cause already told explains.
std::vector<Verdict> without_findings(std::vector<Verdict> verdicts) {
  for (Verdict& verdict : verdicts)
    if (verdict.outcome != Outcome::holds)
      verdict = not_relevant({verdict.where, verdict.element, verdict.state});
  return verdicts;
}

void judge(const AnalysedSite& site, const Rule& rule, Report& report) {
  std::vector<Verdict> verdicts = merged(rule.check(site));
  if (keeps_silent(rule, report)) verdicts = without_findings(std::move(verdicts));
  count(verdicts, report.counts);
  for (const Verdict& verdict : verdicts) {
    if (verdict.outcome == Outcome::broken) report.findings.push_back(finding(rule, verdict));
    if (verdict.outcome == Outcome::open) report.open.push_back(open_point(rule, verdict));
    if (verdict.outcome == Outcome::to_confirm) report.questions.push_back(question(rule, verdict));
  }
}

}  // namespace

std::vector<std::string> shown_clauses(const Rule& rule) {
  std::vector<std::string> shown;
  for (const std::string_view clause : rule.clauses) {
    shown.emplace_back(clause);
    if (rule.confirmation == Confirmation::memory) shown.back() += " (to be confirmed)";
  }
  return shown;
}

Report run(const AnalysedSite& site, std::span<const Rule* const> rules) {
  Report report{.file = {},
                .site = site.site.title.site_name,
                .profile = site.profile.name(),
                .findings = {},
                .open = {},
                .questions = {},
                .counts = {},
                .not_checked = {}};
  for (const bool yielding : {false, true})
    for (const Rule* rule : rules)
      if (rule->yields_to.empty() != yielding) judge(site, *rule, report);
  sort_by_place(report.findings);
  sort_by_place(report.open);
  sort_by_place(report.questions);
  return report;
}

}  // namespace linewright::check
