// Speaks of circuits that are promised `normal` or `direct` and are alive in an island state that
// the file names. Positions that no state names are looked over by every-combination-is-safe.
#include <algorithm>
#include <map>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/service.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using site::Service;

Verdict alive(const AnalysedSite& site, const StateView& state,
              const std::vector<std::size_t>& loads) {
  Verdict verdict =
      broken(check::about_circuits(site, state, loads),
             fmt::format("{} {} not promised backup but alive in island",
                         check::circuits_in_words(site, loads), loads.size() == 1 ? "is" : "are"),
             "feed it from ahead of the transfer, or promise it 'backup' and count its power");
  if (loads.size() > 1) verdict.notes = check::circuit_notes(site, loads, "is alive");
  return verdict;
}

void judge_state(const AnalysedSite& site, const StateView& state, std::vector<Verdict>& verdicts) {
  std::map<std::size_t, std::vector<std::size_t>> fed;  // by enclosure
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto promised = check::promised_service(site, e);
    if (promised != Service::normal && promised != Service::direct) continue;
    if (state.feeds(e))
      fed[site.element(e).assembly].push_back(e);
    else
      verdicts.push_back(holds(site.about(e, &state)));
  }
  for (const auto& [board, loads] : fed)
    verdicts.push_back(alive(site, state, loads));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    if (state.state->kind == site::StateKind::island) judge_state(site, state, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule only_backed_up_circuits_in_island{
    .id = "transfer/only-backed-up-circuits-in-island",
    .severity = Severity::breach,
    .must_hold = "In island a circuit that is not promised backup is dead.",
    .why =
        "The inverter and its battery were sized without it: it overloads them, and takes down "
        "what was promised to stay alive.",
    .clauses = {"common practice, no source"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The cooker hangs on the backed-up board, and nobody counted it.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    service: backup
    feed: [-T1:backup, -W3 3×6 mm² 5 m]
    circuits:
      - {id: -F31, name: Boiler, device: B16 2P, cable: 3×2.5 mm² 9 m, use: fixed}
      - {id: -F32, name: Cooker, device: B32 2P, cable: 3×6 mm² 9 m, use: cooking, service: normal}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
