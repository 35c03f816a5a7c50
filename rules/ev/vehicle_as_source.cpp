// A vehicle that gives energy back is a source, and is entered as one.
//
// Speaks of charge points: whether the vehicle gives back at all, and whether an inverter stands
// for it where it does. What then applies to that source (joint, RCD, interlock, isolation, devices
// fed from both sides) the other rules judge. A vehicle's own socket-outlet is a floating portable
// source: that it feeds no building is asked on site; an inlet that it is plugged into is entered
// as a generator.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

bool on_the_circuit(const AnalysedSite& site, std::size_t load, std::size_t source) {
  const auto own = network::line_nodes(site.network, load, 0);
  const auto other = network::line_nodes(site.network, source);
  return std::ranges::any_of(site.states, [&](const StateView& state) {
    return network::any_possibly_joined(state, own, other);
  });
}

/// Whether some state shows the vehicle at work, without the supply where it feeds the home.
bool shown(const AnalysedSite& site, std::size_t vehicle, site::GivesBack how) {
  return std::ranges::any_of(site.states, [&](const StateView& state) {
    return std::ranges::count(state.state->running, vehicle) > 0 &&
           (how != site::GivesBack::home || !state.supply_runs);
  });
}

Verdict judge_source(const AnalysedSite& site, std::size_t load, const site::ChargePoint& it) {
  const Subject where = site.about(load);
  const site::GivesBack how = it.gives_back.value_or(site::GivesBack::home);
  const std::string name = check::circuit_name(site, load);
  const std::size_t vehicle = site.site.find(it.vehicle);
  const auto* inverter =
      vehicle == site::none ? nullptr : site::facts<site::Inverter>(site.element(vehicle));
  const std::size_t source =
      inverter == nullptr ? site::none : network::source_of(site.network, vehicle);
  if (source == site::none)
    return open(where, fmt::format("what the vehicle on '{}' does as a source", name),
                fmt::format("'vehicle' under 'charging' of '{}': an inverter that stands for it, "
                            "joined to its circuit",
                            name));
  const std::string& designation = site.name(vehicle);
  if (!on_the_circuit(site, load, source))
    return broken(where,
                  fmt::format("'{}' stands for the vehicle on '{}', but on another circuit",
                              designation, name),
                  fmt::format("join '{}' where '{}' is joined", designation, name));
  const bool forms = site.network.sources[source].forming;
  if (how == site::GivesBack::home && !forms)
    return broken(
        where,
        fmt::format("'{}' feeds the home from '{}', which only follows a voltage", name,
                    designation),
        fmt::format("enter 'grid: forming' for '{}', or 'gives back: grid'", designation));
  if (!shown(site, vehicle, how))
    return open(where, fmt::format("what happens while the vehicle on '{}' feeds", name),
                fmt::format("a state in which '{}' runs (states: … running: [{}])", designation,
                            designation));
  return holds(where);
}

Verdict judge(const AnalysedSite& site, std::size_t load) {
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  const site::ChargePoint& it = check::charging(site, load);
  if (!it.gives_back)
    return open(where, fmt::format("whether a vehicle on '{}' gives energy back", name),
                fmt::format("'gives back' under 'charging' of '{}'", name));
  switch (*it.gives_back) {
    case site::GivesBack::no:
      return holds(where);
    case site::GivesBack::socket:
      return asks(
          where,
          fmt::format("whether the socket-outlet of the vehicle on '{}' can reach any wiring "
                      "of the building",
                      name),
          "no lead and no inlet for it; it feeds single items only");
    case site::GivesBack::home:
    case site::GivesBack::grid:
      break;
  }
  return judge_source(site, load, it);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const std::size_t load : check::charge_points(site))
    verdicts.push_back(judge(site, load));
  return verdicts;
}

}  // namespace

extern const check::Rule vehicle_as_source{
    .id = "ev/vehicle-as-source",
    .severity = Severity::danger,
    .must_hold =
        "A vehicle that feeds home or grid is entered as a source on its circuit and shown in a "
        "state.",
    .why =
        "It is a generator of 100 kWh on a plug: joint of neutral and earth, RCDs, interlocks and "
        "isolation must count it in.",
    .clauses = {"IEC 60364-7-722:2018", "IEC 60364-5-55 551", "BS 7671 551.4.3.2.1"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The car feeds the home, from an inverter that stands on another circuit.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T9: {kind: battery, grid: forming, power: 7 kVA, bond: closes in island, bond rest: open, synchronises at: [-Q1]}
devices:
  -Q1: {device: contactor 63 A 2P, mirror contact: yes}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q10 switch-disconnector 63 A 2P isolating lockable, -Q1]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW,
         charging: {points: 1, gives back: home, vehicle: -T9}}
  +A5: {feed: [-T9:ac, -W9 3×6 mm² 3 m], earth: 16 mm²}
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T9]}
)",
    .check = check,
};

}  // namespace linewright::rules
