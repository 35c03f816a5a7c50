#include "linewright.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>
#include <fmt/format.h>

#include "analysis.hpp"
#include "check/later.hpp"
#include "check/proof_scope.hpp"
#include "check/run.hpp"
#include "documents/certificate.hpp"
#include "documents/procedure.hpp"
#include "documents/states_account.hpp"
#include "documents/summary.hpp"
#include "input/nearest.hpp"
#include "input/read.hpp"
#include "rules/not_checked.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"

namespace linewright {
namespace {

/// The known name that is meant: as written, or with the sign that was left out.
Result<std::string> name_meant(std::string_view what, const std::string& written,
                               const std::vector<std::string>& known) {
  for (const std::string& sign : {std::string(), std::string("-"), std::string("+")})
    if (std::ranges::count(known, sign + written) > 0) return sign + written;
  const std::vector<std::string_view> views(known.begin(), known.end());
  return fail(fmt::format(
      "no {} '{}'; {}", what, written,
      input::did_you_mean(written, views, fmt::format("known: {}", fmt::join(known, ", ")))));
}

/// The one procedure that was asked for.
Result<documents::ProcedureRequest> request_for(const site::Site& site,
                                                const StepsOptions& options) {
  documents::ProcedureRequest request;
  const auto states = documents::state_names(site);
  const auto from = name_meant(
      "state", options.from.empty() ? documents::usual_start(site) : options.from, states);
  if (!from) return fail(from.error().message);
  request.from = *from;
  const auto target = options.isolate.empty()
                          ? name_meant("state", options.to, states)
                          : name_meant("element or assembly to isolate", options.isolate,
                                       documents::names_to_isolate(site));
  if (!target) return fail(target.error().message);
  (options.isolate.empty() ? request.to : request.isolate) = *target;
  return request;
}

}  // namespace

Result<std::shared_ptr<const Analysis>> analysis_of(std::shared_ptr<const site::Site> site,
                                                    const std::string& wished_profile) {
  Result<check::Profile> profile = rules::profile_for(*site, wished_profile);
  if (!profile) return fail(profile.error().message);
  return std::make_shared<const Analysis>(std::move(site), wished_profile, std::move(*profile));
}

Checked check_site(std::string_view yaml, std::string_view file, const CheckOptions& options) {
  Checked checked;
  checked.report.file = std::string(file);
  input::Reading reading = input::read_site(yaml);
  checked.mistakes = std::move(reading.mistakes);
  if (options.on_step) options.on_step(Step::read);
  if (!reading.site) return checked;
  const auto site = std::make_shared<const site::Site>(std::move(*reading.site));
  const auto analysis = analysis_of(site, options.profile);
  if (!analysis) {
    checked.mistakes.push_back({.where = site->profile_where,
                                .message = analysis.error().message,
                                .mend = "name one of the built-in profiles"});
    return checked;
  }
  checked.site = site;
  checked.analysis = *analysis;
  checked.report = check::run((*analysis)->analysed, rules::all_rules());
  checked.report.file = std::string(file);
  if (options.on_step) options.on_step(Step::checked);
  for (const std::string_view part : rules::not_checked)
    checked.report.not_checked.emplace_back(part);
  if (options.sum_up_positions)
    checked.positions = documents::certificate_line(check::certificate_of((*analysis)->analysed));
  return checked;
}

std::vector<std::string> profile_names() {
  return rules::profile_names();
}

Result<std::string> describe_site(const site::Site& site, const DrawOptions& options) {
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
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

Result<StepsFound> steps_of_site(const site::Site& site, const StepsOptions& options) {
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  const bool usual = options.to.empty() && options.isolate.empty();
  std::vector<documents::ProcedureRequest> requests;
  if (usual) {
    requests = documents::usual_requests(site);
  } else {
    auto request = request_for(site, options);
    if (!request) return fail(request.error().message);
    requests.push_back(std::move(*request));
  }
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  const auto all =
      documents::procedures(site, analysed.network, check::proof_scope(analysed), requests);
  StepsFound found;
  found.ready = std::ranges::all_of(all, [](const documents::Procedure& one) {
    return one.result == documents::ProcedureResult::ready;
  });
  if (options.json)
    found.text = documents::procedures_json(all);
  else
    found.text =
        usual && !options.all ? documents::procedures_list(all) : documents::procedures_text(all);
  return found;
}

}  // namespace linewright
