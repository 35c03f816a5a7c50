#include "support/judge.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "check/run.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

check::Profile profile_for(const site::Site& site, std::string_view named) {
  auto profile = rules::profile(named.empty() ? std::string_view(site.profile) : named);
  if (!profile) FAIL(profile.error().message);
  return std::move(*profile);
}

}  // namespace

std::vector<Verdict> verdicts(const check::Rule& rule, std::string_view yaml,
                              std::string_view profile) {
  const site::Site site = site_from(yaml);
  const check::Profile values = profile_for(site, profile);
  return rule.check(check::analyse(site, values));
}

Report report_on(std::string_view yaml, std::string_view profile) {
  const site::Site site = site_from(yaml);
  const check::Profile values = profile_for(site, profile);
  return check::run(check::analyse(site, values), rules::all_rules());
}

std::string with(std::string_view yaml, std::string_view find, std::string_view put) {
  std::string text(yaml);
  const auto at = text.find(find);
  if (at == std::string::npos) FAIL("not in the site: " << find);
  return text.replace(at, find.size(), put);
}

std::vector<Verdict> those(const std::vector<Verdict>& all, Outcome outcome) {
  std::vector<Verdict> kept;
  std::ranges::copy_if(all, std::back_inserter(kept),
                       [&](const Verdict& v) { return v.outcome == outcome; });
  return kept;
}

bool sound(const std::vector<Verdict>& all) {
  return broken_ones(all).empty() && open_ones(all).empty() && !those(all, Outcome::holds).empty();
}

bool silent(const std::vector<Verdict>& all) {
  return those(all, Outcome::not_relevant).size() == all.size();
}

bool says(const std::vector<Verdict>& all, Outcome outcome, std::string_view element,
          std::string_view state) {
  return std::ranges::any_of(all, [&](const Verdict& v) {
    return v.outcome == outcome && v.element == element && (state.empty() || v.state == state);
  });
}

std::string states_with(const std::vector<Verdict>& all, Outcome outcome) {
  std::vector<std::string> names;
  for (const Verdict& v : those(all, outcome))
    if (std::ranges::count(names, v.state) == 0) names.push_back(v.state);
  std::string joined;
  for (const std::string& name : names)
    joined += (joined.empty() ? "" : " ") + name;
  return joined;
}

std::string rules_broken(const Report& report) {
  std::set<std::string> ids;
  for (const Finding& finding : report.findings)
    if (finding.severity != Severity::advice) ids.insert(finding.rule);
  std::string joined;
  for (const std::string& id : ids)
    joined += (joined.empty() ? "" : " ") + id;
  return joined;
}

}  // namespace linewright::tests

namespace Catch {

std::string StringMaker<linewright::Verdict>::convert(const linewright::Verdict& verdict) {
  static constexpr std::array<const char*, 5> names{"holds", "broken", "open", "not relevant",
                                                    "to confirm"};
  return std::string(names.at(static_cast<std::size_t>(verdict.outcome))) + " " + verdict.element +
         " in '" + verdict.state + "': " + verdict.message +
         (verdict.missing.empty() ? "" : " (missing: " + verdict.missing + ")");
}

}  // namespace Catch
