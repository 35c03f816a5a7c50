// Speaks of heat pumps that something feeds without the supply. A heater that is blocked there, or
// that is not fitted, holds. One that runs is held against the power of the sources together with
// every circuit alive that states its load; the start of the compressor against their surge. What
// the circuits need second by second, per phase, is not looked at.

#include <algorithm>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "check/heat_pumps.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::HeatPumpCircuit;
using network::StateView;

/// A sum of powers, taken at a power factor of one; `missing` names the first value that lacks.
struct Sum {
  ActivePower amount{};
  std::string missing;
};

void add(Sum& sum, const std::optional<ActivePower>& power, const std::string& missing) {
  if (power)
    sum.amount += *power;
  else if (sum.missing.empty())
    sum.missing = missing;
}

std::optional<ActivePower> as_active(const std::optional<ApparentPower>& power) {
  return power ? std::optional(ActivePower{power->base}) : std::nullopt;
}

enum class Of { lasting, surge };

/// What the sources of the heat pump's zone give.
Sum given(const AnalysedSite& site, const StateView& state, std::size_t load, Of which) {
  Sum sum;
  for (const network::Loop& loop : state.loops) {
    if (loop.load != load) continue;
    const network::Zone* zone = state.zone_of(loop.source);
    for (const std::size_t source : zone == nullptr ? std::vector{loop.source} : zone->sources) {
      std::optional<ApparentPower> power;
      if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
        power = which == Of::surge && inverter->surge ? inverter->surge : inverter->power;
      if (const auto* set = site::facts<site::Generator>(site.element(source))) power = set->power;
      add(sum, as_active(power), fmt::format("power of '{}' (power)", site.name(source)));
    }
    break;
  }
  return sum;
}

/// What every circuit alive draws, except what is dropped in island.
Sum drawn(const AnalysedSite& site, const StateView& state) {
  Sum sum;
  for (const std::size_t element : state.alive_loads) {
    const auto& load = std::get<site::LoadGroup>(site.element(element).facts);
    if (load.shed_in_island) continue;
    const auto power =
        load.power ? std::optional(load.diversity.value_or(1.0) * *load.power) : std::nullopt;
    add(sum, power, fmt::format("load of '{}' (load)", check::circuit_name(site, element)));
  }
  return sum;
}

Verdict judge_heater(const AnalysedSite& site, const HeatPumpCircuit& circuit,
                     const StateView& state) {
  const Subject subject = check::at_circuit(site, circuit.element, &state);
  const std::string name = check::circuit_name(site, circuit.element);
  const std::string question = fmt::format("whether the heater of '{}' overloads the backup", name);
  const site::HeatPump& pump = circuit.pump;
  if (pump.heater && !(*pump.heater > ActivePower{})) return holds(subject);
  if (pump.heater_in_island == false) return holds(subject);
  if (!pump.heater || !pump.heater_in_island)
    return open(subject, question,
                fmt::format("heater of '{}' and whether it is blocked (heat pump: heater, heater "
                            "in island)",
                            name));
  const Sum source = given(site, state, circuit.element, Of::lasting);
  const Sum others = drawn(site, state);
  const ActivePower total = others.amount + *pump.heater;
  if (source.missing.empty() && total > source.amount)
    return broken(subject,
                  fmt::format("with the heater of '{}' {} are drawn, {} are there", name,
                              print_rounded(total, 3), print_rounded(source.amount, 3)),
                  "block the heater in island and on the generator, or drop other circuits there");
  if (!source.missing.empty() || !others.missing.empty())
    return open(subject, question, source.missing.empty() ? others.missing : source.missing);
  return holds(subject);
}

Verdict judge_start(const AnalysedSite& site, const HeatPumpCircuit& circuit,
                    const StateView& state) {
  const Subject subject = check::at_circuit(site, circuit.element, &state);
  const std::string name = check::circuit_name(site, circuit.element);
  const site::LoadGroup& load = *circuit.load;
  const std::string question = fmt::format("whether the backup starts '{}'", name);
  const Sum source = given(site, state, circuit.element, Of::surge);
  if (load.drive == true && !load.start_factor) return holds(subject);  // it starts softly
  if (!load.power || !load.start_factor)
    return open(subject, question,
                fmt::format("load and start factor of '{}' (load, start factor)", name));
  if (!source.missing.empty()) return open(subject, question, source.missing);
  const ActivePower start = *load.start_factor * *load.power;
  if (start <= source.amount) return holds(subject);
  return broken(subject,
                fmt::format("'{}' draws {} at its start, {} are there", name,
                            print_rounded(start, 3), print_rounded(source.amount, 3)),
                "fit a soft start or a heat pump with a converter, or move it off the backup");
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const HeatPumpCircuit& circuit : check::heat_pumps(site)) {
    if (circuit.off_grid.empty() || circuit.load->shed_in_island)
      verdicts.push_back(not_relevant(check::at_circuit(site, circuit.element)));
    else
      for (const StateView* state : circuit.off_grid) {
        verdicts.push_back(judge_heater(site, circuit, *state));
        verdicts.push_back(judge_start(site, circuit, *state));
      }
  }
  return verdicts;
}

}  // namespace

extern const check::Rule start_and_heater{
    .id = "heatpump/start-and-heater",
    .severity = Severity::breach,
    .must_hold =
        "In island and on the generator the start of a heat pump's compressor and its electric "
        "heater are counted; the heater is blocked there unless the source carries it.",
    .why =
        "A heater of 3 to 9 kW comes in by itself after the first defrosting, and takes the whole "
        "backup down.",
    .clauses = {"IEC 60364-8-82", "IEC 60335-2-40"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(site: {name: Heater on a small inverter}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 1P+N 30 mA type B 6 kA, cable: 3×2.5 mm² 12 m, use: heat pump, drive: yes, load: 2 kW,
         heat pump: {heater: 6 kW, heater in island: runs, locked by: -T1, lock rest: blocked, local isolator: yes}}
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
