#include "seeded/account.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "check/run.hpp"
#include "linewright.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"

namespace linewright::tests {
namespace {

class Words {
 public:
  Words(const site::Site& site, const Renamed& renamed) : site_(site), renamed_(renamed) {}

  std::string element(const std::string& designation) const {
    const std::size_t e = site_.find(designation);
    if (e != site::none && site::facts<site::LoadGroup>(site_.elements[e]) != nullptr &&
        !site_.elements[e].name.empty())
      return before("'" + site_.elements[e].name + "'");
    return before(designation);
  }

  /// "island, grid" as "grid, island": the states of one finding come in the order of the file.
  std::string states(const std::string& list) const {
    std::vector<std::string> names;
    std::size_t at = 0;
    while (at <= list.size()) {
      const std::size_t end = std::min(list.find(", ", at), list.size());
      names.push_back(before(list.substr(at, end - at)));
      at = end + 2;
    }
    std::ranges::sort(names);
    std::string words;
    for (const std::string& name : names)
      words += (words.empty() ? "" : ", ") + name;
    return words;
  }

 private:
  std::string before(const std::string& name) const {
    const auto old = renamed_.find(name);
    return old == renamed_.end() ? name : old->second;
  }

  const site::Site& site_;
  const Renamed& renamed_;
};

}  // namespace

Account account_of(const site::Site& site, const Report& report, const Renamed& renamed) {
  const Words words(site, renamed);
  Account account;
  for (const Finding& finding : report.findings)
    account.said.push_back(fmt::format("{} {} at {} in {}", static_cast<int>(finding.severity),
                                       finding.rule, words.element(finding.element),
                                       words.states(finding.state)));
  for (const OpenPoint& point : report.open)
    account.said.push_back(fmt::format("open {} at {} in {}", point.rule,
                                       words.element(point.element), words.states(point.state)));
  for (const Question& question : report.questions)
    account.asked.push_back(fmt::format("{} at {} in {}", question.rule,
                                        words.element(question.element),
                                        words.states(question.state)));
  std::ranges::sort(account.said);
  std::ranges::sort(account.asked);
  const RuleCounts& counts = report.counts;
  account.rules =
      fmt::format("{} hold, {} broken, {} open, {} not relevant, {} to confirm", counts.hold,
                  counts.broken, counts.open, counts.not_relevant, counts.to_confirm);
  return account;
}

Account account_of(const std::string& yaml, const Renamed& renamed) {
  const Checked checked = check_site(yaml, "site.yaml");
  if (!checked.site) {
    Account account;
    const Mistake& first = checked.mistakes.front();
    account.mistake = fmt::format("line {}: {}", first.where.line, first.message);
    return account;
  }
  return account_of(*checked.site, checked.report, renamed);
}

Account account_of(const site::Site& site) {
  const check::Profile profile = *rules::profile(site.profile);
  return account_of(site, check::run(check::analyse(site, profile), rules::all_rules()), {});
}

}  // namespace linewright::tests
