// Speaks of circuits that are promised `backup` and get no voltage in a named state in which some
// source is to run. What a board loses together is one finding.
#include <algorithm>
#include <map>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/service.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using site::StateKind;

bool is_backed_up(const AnalysedSite& site, std::size_t load) {
  return check::promised_service(site, load) == site::Service::backup;
}

/// Whether the state is one of those in which a circuit that is backed up has to be alive.
bool is_asked(const AnalysedSite& site, const StateView& state, std::size_t load) {
  switch (state.state->kind) {
    case StateKind::grid:
    case StateKind::bypass:
      return true;
    case StateKind::island:
    case StateKind::generator:
      return !std::get<site::LoadGroup>(site.element(load).facts).shed_in_island;
    case StateKind::off:
    case StateKind::other:
      return false;
  }
  return false;
}

/// Whether what the file leaves open may bring voltage to it.
bool may_be_alive(const AnalysedSite& site, const StateView& state, std::size_t load) {
  const auto lines = network::line_nodes(site.network, load, 0);
  for (std::size_t s = 0; s < site.network.sources.size(); ++s) {
    const network::SourcePoint& source = site.network.sources[s];
    if (!source.forming || std::ranges::count(state.state->running, source.element) == 0) continue;
    if (network::any_possibly_joined(state, lines, network::line_nodes(site.network, s)))
      return true;
  }
  return false;
}

Verdict dead(const AnalysedSite& site, const StateView& state,
             const std::vector<std::size_t>& loads) {
  Verdict verdict =
      broken(check::about_circuits(site, state, loads),
             fmt::format("{} {} promised backup but dead", check::circuits_in_words(site, loads),
                         loads.size() == 1 ? "is" : "are"),
             "feed it from the backup side in this state, or promise it 'normal' or 'shed in "
             "island: yes'");
  if (loads.size() > 1) verdict.notes = check::circuit_notes(site, loads, "is dead");
  return verdict;
}

void judge_state(const AnalysedSite& site, const StateView& state, std::vector<Verdict>& verdicts) {
  std::map<std::size_t, std::vector<std::size_t>> without;  // by enclosure
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (!is_backed_up(site, e)) continue;
    if (!is_asked(site, state, e))
      verdicts.push_back(not_relevant(site.about(e, &state)));
    else if (state.feeds(e))
      verdicts.push_back(holds(site.about(e, &state)));
    else if (may_be_alive(site, state, e))
      verdicts.push_back(open(site.about(e, &state),
                              fmt::format("whether '{}' is alive", check::circuit_name(site, e)),
                              "positions of the devices that lead to it (states), or their rest"));
    else
      without[site.element(e).assembly].push_back(e);
  }
  for (const auto& [board, loads] : without)
    verdicts.push_back(dead(site, state, loads));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    judge_state(site, state, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule backed_up_circuits_stay_alive{
    .id = "transfer/backed-up-circuits-stay-alive",
    .severity = Severity::breach,
    .must_hold =
        "A circuit that is promised backup is alive on the grid, in island, on the generator and "
        "in bypass, those excepted that are shed.",
    .why =
        "The freezer, the pump or the alarm that everybody believes backed up stays dark in the "
        "first outage, or on the day an inverter is away.",
    .clauses = {"common practice, no source"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The freezer is promised backup and hangs on the board of the grid.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m]
    circuits:
      - {id: -F11, name: Freezer, device: B16 2P, cable: 3×2.5 mm² 9 m, use: fixed, service: backup}
  +A3:
    service: backup
    feed: [-T1:backup, -W3 3×6 mm² 5 m]
    circuits:
      - {id: -F31, name: Boiler, device: B16 2P, cable: 3×2.5 mm² 9 m, use: fixed}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
