// Speaks of three-phase heat pumps: whether they stop at a lost or reversed phase, and whether some
// state feeds them with less than three lines or from a source whose one line is joined to all
// three. Other three-phase loads are not looked at here.

#include <algorithm>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::HeatPumpCircuit;
using network::StateView;

bool one_line_for_three(const AnalysedSite& site, std::size_t source) {
  if (const auto* set = site::facts<site::Generator>(site.element(source))) return set->lines_tied;
  const auto* inverter = site::facts<site::Inverter>(site.element(source));
  return inverter != nullptr && inverter->lines_tied;
}

/// Lines of the load that a source reaches.
int lines_fed(const AnalysedSite& site, const StateView& state, std::size_t load) {
  std::set<site::Conductor> fed;
  for (const network::Loop& loop : state.loops) {
    if (loop.load != load) continue;
    const network::SourcePoint* point = network::source_point(site.network, loop.source);
    const network::WaysFrom ways(site.network, site.site, state.positions, *point);
    for (const site::Conductor line :
         {site::Conductor::l1, site::Conductor::l2, site::Conductor::l3})
      if (ways.line_to(load, 0, line).joined) fed.insert(line);
  }
  return static_cast<int>(fed.size());
}

Verdict judge_monitor(const AnalysedSite& site, const HeatPumpCircuit& circuit) {
  const Subject subject = check::at_circuit(site, circuit.element);
  const std::string name = check::circuit_name(site, circuit.element);
  if (!circuit.pump.phase_monitor)
    return open(subject, fmt::format("whether '{}' stops at a lost or reversed phase", name),
                fmt::format("phase monitor of '{}' (heat pump: phase monitor)", name));
  if (*circuit.pump.phase_monitor) return holds(subject);
  return broken(subject, fmt::format("'{}' does not stop at a lost or reversed phase", name),
                "fit a phase monitor that opens its contactor");
}

Verdict judge_state(const AnalysedSite& site, const HeatPumpCircuit& circuit,
                    const StateView& state) {
  const Subject subject = check::at_circuit(site, circuit.element, &state);
  const std::string name = check::circuit_name(site, circuit.element);
  const std::string remedy = "leave it off the backup, or feed it from a three-phase source";
  for (const network::Loop& loop : state.loops)
    if (loop.load == circuit.element && one_line_for_three(site, loop.source))
      return broken(subject,
                    fmt::format("{} feeds three-phase '{}' with one line three times",
                                check::quoted(site, loop.source), name),
                    remedy);
  const int fed = lines_fed(site, state, circuit.element);
  if (fed == 0) return not_relevant(subject);
  if (fed == 3) return holds(subject);
  return broken(subject, fmt::format("three-phase '{}' gets {} of its 3 lines", name, fed), remedy);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const HeatPumpCircuit& circuit : check::heat_pumps(site)) {
    if (!circuit.three_phase) continue;
    verdicts.push_back(judge_monitor(site, circuit));
    for (const StateView& state : site.states)
      verdicts.push_back(judge_state(site, circuit, state));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule all_phases_or_none{
    .id = "heatpump/all-phases-or-none",
    .severity = Severity::danger,
    .must_hold =
        "A three-phase heat pump stops at a lost or reversed phase, and no state feeds it with "
        "less than three phases.",
    .why =
        "On two phases its motor stalls and burns; turned backwards the compressor is destroyed "
        "within minutes.",
    .clauses = {"IEC 60204-1 7.5", "IEC 60204-1 7.8"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(site: {name: Heat pump without phase monitor}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 4P 30 mA type B 6 kA, cable: 5×2.5 mm² 12 m, use: heat pump, drive: no, leakage: 2 mA,
         heat pump: {phase monitor: no, local isolator: yes}}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
