#include "linewright.hpp"

#include <utility>

#include "check/run.hpp"
#include "documents/states_account.hpp"
#include "documents/summary.hpp"
#include "input/read.hpp"
#include "rules/not_checked.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"

namespace linewright {
namespace {

Result<check::Profile> profile_for(const site::Site& site, const std::string& wished) {
  return rules::profile(wished.empty() ? std::string_view(site.profile) : wished);
}

}  // namespace

Checked check_site(std::string_view yaml, std::string_view file, const CheckOptions& options) {
  Checked checked;
  checked.report.file = std::string(file);
  input::Reading reading = input::read_site(yaml);
  checked.mistakes = std::move(reading.mistakes);
  if (!reading.site) return checked;
  const Result<check::Profile> profile = profile_for(*reading.site, options.profile);
  if (!profile) {
    checked.mistakes.push_back({.where = reading.site->profile_where,
                                .message = profile.error().message,
                                .mend = "name one of the built-in profiles"});
    return checked;
  }
  checked.site = std::move(reading.site);
  checked.report = check::run(check::analyse(*checked.site, *profile), rules::all_rules());
  checked.report.file = std::string(file);
  for (const std::string_view part : rules::not_checked)
    checked.report.not_checked.emplace_back(part);
  return checked;
}

std::vector<std::string> profile_names() {
  return rules::profile_names();
}

Result<std::string> describe_site(const site::Site& site, const DrawOptions& options) {
  const Result<check::Profile> profile = profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  return documents::summary(site, analysed.network, analysed.states);
}

std::string states_of_site(const site::Site& site, StatesFormat format) {
  const network::Network network = network::build(site);
  std::vector<network::StateView> states;
  for (const site::State& state : site.states)
    states.push_back(network::view(network, site, state));
  const documents::StatesAccount account = documents::states_account(site, network, states);
  switch (format) {
    case StatesFormat::text:
      return documents::account_text(account);
    case StatesFormat::csv:
      return documents::account_csv(account);
    case StatesFormat::json:
      return documents::account_json(account);
  }
  return {};
}

}  // namespace linewright
