// In island a charge point is off, or held back to what the source can give.
//
// Speaks of charge points that are alive in a state without the supply. What the source can give
// phase by phase, house and car together, waits for the rules on capacity: here the limit of the
// charge point alone is held against the power of the sources that run.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

std::string key_of(const char* key, const std::string& name) {
  return fmt::format("'{}' under 'charging' of '{}'", key, name);
}

/// Sources that feed the load in this state.
std::vector<std::size_t> sources_of(const StateView& state, std::size_t load) {
  std::vector<std::size_t> sources;
  for (const network::Loop& loop : state.loops)
    if (loop.load == load) sources.push_back(loop.source);
  return sources;
}

std::optional<ApparentPower> power_of(const AnalysedSite& site, std::size_t source) {
  if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
    return inverter->power;
  if (const auto* set = site::facts<site::Generator>(site.element(source))) return set->power;
  return std::nullopt;
}

Verdict judge_limit(const AnalysedSite& site, const StateView& state, std::size_t load,
                    ActivePower limit) {
  const Subject where = site.about(load, &state);
  const std::string name = check::circuit_name(site, load);
  double sum = 0.0;
  const std::vector<std::size_t> sources = sources_of(state, load);
  for (const std::size_t source : sources) {
    const auto power = power_of(site, source);
    if (!power)
      return open(where, fmt::format("whether {} of '{}' is within what feeds it", limit, name),
                  fmt::format("'power' of {}", check::quoted(site, source)));
    sum += power->in(unit::volt_ampere);
  }
  if (limit.in(unit::watt) <= sum * (1.0 + 1e-9)) return holds(where);
  return broken(where,
                fmt::format("'{}' is held back to {}, {} gives {}", name, limit,
                            check::quoted(site, sources), ApparentPower{sum * unit::volt_ampere}),
                "hold it back further in island, or switch it off");
}

/// Management that must see, in this state, what the source gives.
Verdict judge_managed(const AnalysedSite& site, const StateView& state, std::size_t load) {
  const Subject where = site.about(load, &state);
  const std::string name = check::circuit_name(site, load);
  const site::ChargePoint& it = check::charging(site, load);
  if (!it.managed)
    return open(where, fmt::format("by what '{}' is held back", name), key_of("managed by", name));
  if (!*it.managed)
    return broken(where, fmt::format("'{}' is held back by no meter", name),
                  "name the meter that holds it back, or a power, or switch it off in island");
  const std::size_t meter = check::meter_of(site, load);
  if (meter == site::none)
    return open(where, fmt::format("what '{}' that holds back '{}' measures", it.meter, name),
                fmt::format("a meter '{}' in the chain that feeds the loads", it.meter));
  for (const std::size_t source : sources_of(state, load))
    if (!check::all_ways_pass(site, state, source, load, meter))
      return broken(where,
                    fmt::format("meter '{}' does not see what {} gives '{}'", site.name(meter),
                                check::quoted(site, source), name),
                    "hold it back by a meter at the source of this state, or switch it off in "
                    "island");
  return holds(where);
}

Verdict judge(const AnalysedSite& site, const StateView& state, std::size_t load) {
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  const site::ChargePoint& it = check::charging(site, load);
  const Subject where = site.about(load, &state);
  const std::string name = check::circuit_name(site, load);
  if (facts.shed_in_island || it.in_island == site::IslandCharging::off) return holds(where);
  if (!it.in_island)
    return open(where, fmt::format("what '{}' does without the supply", name),
                key_of("in island", name));
  if (*it.in_island == site::IslandCharging::goes_on)
    return broken(where, fmt::format("'{}' charges on as if the supply were there", name),
                  "switch it off in island, or hold it back to what the source can spare");
  return it.island_limit ? judge_limit(site, state, load, *it.island_limit)
                         : judge_managed(site, state, load);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const std::size_t load : check::charge_points(site))
    for (const StateView& state : site.states) {
      if (state.supply_runs || state.zones.empty())
        verdicts.push_back(not_relevant(site.about(load, &state)));
      else if (!state.feeds(load))
        verdicts.push_back(holds(site.about(load, &state)));
      else
        verdicts.push_back(judge(site, state, load));
    }
  return verdicts;
}

}  // namespace

extern const check::Rule island_behaviour{
    .id = "ev/island-behaviour",
    .severity = Severity::breach,
    .must_hold =
        "Without the supply a charge point is off, or held back to what the source can give.",
    .why = "It is the largest load of the house and starts by itself when voltage returns.",
    .clauses = {"IEC 60364-8-82", "IEC 60364-7-722"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The charge point hangs on the inverter's backup side and charges on.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-T1:backup, -W3 3×10 mm² 3 m]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW, charging: {points: 1, in island: goes on}}
chains:
  - [A1, -W2 3×10 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
