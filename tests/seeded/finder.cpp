#include "seeded/finder.hpp"

#include <algorithm>

#include "check/run.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

/// Empty for a verdict that is no finding of danger or breach and no open point.
std::string in_words(const check::Rule& rule, const Verdict& verdict) {
  const Severity severity = verdict.severity.value_or(rule.severity);
  if (verdict.outcome == Outcome::open)
    return "open " + std::string(rule.id) + " " + verdict.element + " " + verdict.state;
  if (verdict.outcome != Outcome::broken || severity == Severity::advice) return {};
  return "broken " + std::string(rule.id) + " " + verdict.element + " " + verdict.state;
}

}  // namespace

Finder::Finder(const site::Site& sound) : profile_(*rules::profile(sound.profile)) {
  const auto all = rules::all_rules();
  rules_.assign(all.begin(), all.end());
  const check::AnalysedSite site = check::analyse(sound, profile_);
  for (const check::Rule* rule : rules_)
    for (const Verdict& verdict : rule->check(site))
      if (const std::string words = in_words(*rule, verdict); !words.empty())
        said_of_the_sound_.insert(words);
}

std::string_view Finder::found_by(const site::Site& wrong) {
  const check::AnalysedSite site = check::analyse(wrong, profile_);
  for (auto rule = rules_.begin(); rule != rules_.end(); ++rule) {
    const std::vector<Verdict> verdicts = (*rule)->check(site);
    const bool news = std::ranges::any_of(verdicts, [&](const Verdict& verdict) {
      const std::string words = in_words(**rule, verdict);
      return !words.empty() && !said_of_the_sound_.contains(words);
    });
    if (!news) continue;
    std::rotate(rules_.begin(), rule, rule + 1);
    return rules_.front()->id;
  }
  return {};
}

site::Site sound_sample(std::string_view name) {
  const std::string folder = source_folder() + "/samples/" + std::string(name) + "/";
  return site_from(text_of(folder + std::string(name) + ".yaml"));
}

}  // namespace linewright::tests
