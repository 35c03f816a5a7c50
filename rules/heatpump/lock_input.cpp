// Speaks of heat pumps that something feeds without the supply and that are not dropped there. One
// without lock input is fine where its heater is blocked by other means and its drive starts
// softly. That the contact is free of voltage and does what it should is a question for the site.

#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::HeatPumpCircuit;

void judge(const AnalysedSite& site, const HeatPumpCircuit& circuit, std::vector<Verdict>& into) {
  const Subject subject = check::at_circuit(site, circuit.element);
  const std::string name = check::circuit_name(site, circuit.element);
  const site::HeatPump& pump = circuit.pump;
  const std::string question = fmt::format("whether '{}' is held back in island", name);
  if (!pump.locked_in_island) {
    into.push_back(
        open(subject, question,
             fmt::format("what opens the lock input of '{}' (heat pump: locked by)", name)));
  } else if (!*pump.locked_in_island) {
    into.push_back(broken(subject, fmt::format("nothing locks '{}' in island", name),
                          "wire its lock input to the contact that tells of island or generator"));
  } else if (!pump.lock_rests_blocked) {
    into.push_back(
        open(subject, question,
             fmt::format("what '{}' does when that wire is cut (heat pump: lock rest)", name)));
  } else if (!*pump.lock_rests_blocked) {
    into.push_back(broken(subject, fmt::format("'{}' runs free when its lock wire is cut", name),
                          "use the contact that is closed on the grid only, so that a cut wire "
                          "blocks the heat pump"));
  } else {
    into.push_back(holds(subject));
    into.push_back(asks(
        subject, fmt::format("whether '{}' stops when '{}' tells of island", name, pump.locked_by),
        "it stops, and so does its heater; the contact is free of voltage"));
  }
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const HeatPumpCircuit& circuit : check::heat_pumps(site)) {
    if (circuit.off_grid.empty() || circuit.load->shed_in_island)
      verdicts.push_back(not_relevant(check::at_circuit(site, circuit.element)));
    else
      judge(site, circuit, verdicts);
  }
  return verdicts;
}

}  // namespace

extern const check::Rule lock_input{
    .id = "heatpump/lock-input",
    .severity = Severity::advice,
    .must_hold =
        "The lock input of a heat pump that the backup feeds is wired to the signal of island or "
        "generator, and blocks when its wire is cut.",
    .why = "Unheld, compressor and heater come in whenever they like and overload the backup.",
    .clauses = {"EnWG 14a and the distributors' lock-out rules (DE)"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(site: {name: Heat pump that nothing holds back}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 1P+N 30 mA type B 6 kA, cable: 3×2.5 mm² 12 m, use: heat pump, drive: yes, load: 2 kW,
         heat pump: {heater: none, locked by: "no", local isolator: yes}}
inverters:
  -T1: {kind: battery, backup side: yes, power: 5 kVA, waveform: sine, neutral in island: opened, bond: closes in island, bond rest: open, no dc fault current: yes}
chains:
  - [A1, -F2 C32 2P 6 kA two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
