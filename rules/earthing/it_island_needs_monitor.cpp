// A system that runs without a joint of neutral and earth on purpose is watched over.
//
// Speaks of zones without any joint that are meant so (`unearthed on purpose`, or an IT supply). A
// joint that is missing without being meant so is left to the rules on bonds. The time in which a
// second fault is cleared needs fault currents, which are not worked out yet: it is asked on site.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/unearthed.hpp"
#include "network/neutral_paths.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

Verdict judge_monitor(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  const Subject where = site.about(source, &state);
  const std::string name = check::quoted(site, source);
  std::optional<site::InsulationMonitor> best;
  for (const std::size_t each : zone.sources)
    if (const auto monitor = check::unearthed(site, each)->monitor)
      best = best ? std::max(*best, *monitor) : *monitor;
  if (!best)
    return open(where,
                fmt::format("whether anything watches the insulation of what {} feeds", name),
                fmt::format("'insulation monitor' of {}", name));
  if (*best == site::InsulationMonitor::with_alarm) return holds(where);
  const std::string message =
      *best == site::InsulationMonitor::none
          ? fmt::format("nothing watches the insulation of what {} feeds", name)
          : fmt::format("the insulation monitor of {} has no alarm", name);
  return broken(where, message,
                "fit an insulation monitor with an alarm that is seen and heard, or join neutral "
                "to earth");
}

/// The electrodes of the main earthing terminal side by side; none where one is unknown.
std::optional<Resistance> electrodes_together(const AnalysedSite& site) {
  double conductance = 0.0;
  for (const std::size_t e : network::electrodes_on_main_terminal(site.network, site.site)) {
    const auto value = site::facts<site::Electrode>(site.element(e))->resistance;
    if (!value || !(value->si > 0.0)) return std::nullopt;
    conductance += 1.0 / value->si;
  }
  if (!(conductance > 0.0)) return std::nullopt;
  return Resistance{1.0 / conductance};
}

/// R_A × I_d of the first fault (IEC 60364-4-41 411.6.2).
Verdict judge_first_fault(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  const Subject where = site.about(source, &state);
  const std::string name = check::quoted(site, source);
  const auto limit = site.profile.voltage("touch voltage limit");
  const auto current = check::unearthed(site, source)->first_fault;
  const auto resistance = electrodes_together(site);
  if (!limit || !current)
    return open(where, fmt::format("the touch voltage at a first fault on what {} feeds", name),
                fmt::format("'first fault current' of {}", name));
  if (!resistance)
    return open(where, fmt::format("the touch voltage at a first fault on what {} feeds", name),
                "an electrode with its resistance (earthing: electrodes)");
  const Voltage touch = *resistance * *current;
  if (touch.si <= limit->si * (1.0 + 1e-9)) return holds(where);
  return broken(
      where, fmt::format("a first fault lifts the earth by {}, must be {} or less", touch, *limit),
      "lower the resistance of the electrode, or feed fewer and shorter cables");
}

bool opens_neutral(const AnalysedSite& site, std::size_t device) {
  const network::Broken broken = network::broken_by(site.element(device));
  return broken.opened.has(site::Conductor::n);
}

/// Circuits whose neutral nothing opens together with their lines.
Verdict judge_neutrals(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const Subject where = site.about(zone.sources.front(), &state);
  std::vector<std::size_t> unopened;
  for (const network::Loop& loop : state.loops) {
    const bool asked = std::ranges::count(zone.sources, loop.source) > 0 &&
                       site.network.node(loop.load, 0, site::Conductor::n) != network::no_node;
    if (!asked || std::ranges::count(unopened, loop.load) > 0) continue;
    if (std::ranges::none_of(loop.line_guards,
                             [&](std::size_t guard) { return opens_neutral(site, guard); }))
      unopened.push_back(loop.load);
  }
  if (unopened.empty()) return holds(where);
  Verdict verdict = broken(where,
                           fmt::format("the neutral of {} is not opened with the lines",
                                       check::circuits_in_words(site, unopened)),
                           "fit devices that open the neutral too (1P+N, 2P, 4P)");
  verdict.notes = check::circuit_notes(site, unopened, "keeps its neutral when its device opens");
  return verdict;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                std::vector<Verdict>& verdicts) {
  const std::size_t source = zone.sources.front();
  const Subject where = site.about(source, &state);
  const bool supply = site::facts<site::Supply>(site.element(source)) != nullptr;
  if (!check::runs_as_it(site, zone) ||
      check::separated(site, state, zone) == check::Separated::yes) {
    verdicts.push_back(not_relevant(where));
    return;
  }
  if (supply && site.profile.text("public IT supply") == "no")
    verdicts.push_back(broken(where, "this country's public supplies are joined to earth, not IT",
                              "ask the distributor for the kind of earthing and mend 'earthing'"));
  verdicts.push_back(judge_monitor(site, state, zone));
  verdicts.push_back(judge_first_fault(site, state, zone));
  verdicts.push_back(judge_neutrals(site, state, zone));
  verdicts.push_back(asks(
      where, "in what time a second fault, on another conductor, is cleared",
      fmt::format("{} or less in final circuits", site.profile.text("disconnection final TN"))));
  verdicts.push_back(asks(where, "whether the monitor alarms with a test resistor on each line",
                          "the alarm comes, in this state, from this source"));
  verdicts.push_back(asks(where, "whether all that is fed stands line-to-line voltage to earth",
                          "stated by the maker of each load, filter and surge device"));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      judge_zone(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule it_island_needs_monitor{
    .id = "earthing/it-island-needs-monitor",
    .severity = Severity::danger,
    .must_hold =
        "A system meant to run without a joint to earth has an insulation monitor with alarm, a "
        "low earth, and circuits that open their neutral.",
    .why = "The first fault is silent; the second is a short circuit through two cases.",
    .clauses = {"IEC 60364-4-41 411.6", "IEC 60364-5-53 538.1", "IEC 60364-4-43 431.2.2",
                "IEC 60364-5-55 551.4"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"public IT supply", "touch voltage limit", "disconnection final TN"},
    .example = R"(# Unearthed on purpose, and nothing watches.
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, fixed: yes, own rcd: no, unearthed on purpose: yes,
        insulation monitor: none, first fault current: 30 mA}
boards:
  +A1:
    feed: [-G1, -W1 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Pump, device: B16 2P 30 mA type A, cable: 3×2.5 mm² 20 m, use: fixed}
states:
  generator: {running: [-G1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
