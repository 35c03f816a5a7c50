// House and cars together stay below the main fuse, or management holds the cars back.
//
// Speaks of states that the supply feeds alone, of sites with charge points. Demand is the sum of
// the loads given, with their diversity, phase by phase at a power factor of one: an upper bound
// that tells when management is needed. The meter must see all that the supply feeds. Where such a
// meter is wired wrong is left to signal/meter-at-the-connection-point.
#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

constexpr std::array<site::Conductor, 3> phases{site::Conductor::l1, site::Conductor::l2,
                                                site::Conductor::l3};

/// What the loads of a state ask of the supply.
struct Demand {
  std::array<double, 3> watts{};     ///< by phase
  std::vector<std::size_t> unknown;  ///< circuits without a power

  double greatest() const { return *std::ranges::max_element(watts); }
};

std::vector<std::size_t> loads_from(const StateView& state, std::size_t supply) {
  std::vector<std::size_t> loads;
  for (const network::Loop& loop : state.loops)
    if (loop.source == supply && std::ranges::count(loads, loop.load) == 0)
      loads.push_back(loop.load);
  return loads;
}

Demand demand_of(const AnalysedSite& site, const std::vector<std::size_t>& loads) {
  Demand demand;
  for (const std::size_t load : loads) {
    const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
    const auto lines = site.element(load).conductors & site::lines;
    if (!facts.power || lines.empty()) {
      demand.unknown.push_back(load);
      continue;
    }
    const double share = facts.power->in(unit::watt)*facts.diversity.value_or(1.0) / lines.count();
    for (std::size_t p = 0; p < phases.size(); ++p)
      if (lines.has(phases[p])) demand.watts[p] += share;
  }
  return demand;
}

/// Whether a charge point's management keeps the main fuse; none where it does.
std::optional<Verdict> unmanaged(const AnalysedSite& site, const StateView& state,
                                 std::size_t supply, std::size_t load, const std::string& excess) {
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  const site::ChargePoint& it = check::charging(site, load);
  const auto missing = [&](const std::string& question, const char* key) {
    return open(where, question, fmt::format("'{}' under 'charging' of '{}'", key, name));
  };
  if (!it.managed)
    return missing(fmt::format("what holds back '{}' while {}", name, excess), "managed by");
  if (!*it.managed)
    return broken(where, fmt::format("nothing holds back '{}', {}", name, excess),
                  "let load management hold the charge point back by a meter at the connection");
  if (!it.on_loss)
    return missing(fmt::format("what '{}' does without its meter while {}", name, excess),
                   "on loss");
  if (*it.on_loss == site::LossOfMeter::goes_on)
    return broken(where, fmt::format("'{}' charges on when it loses its meter, {}", name, excess),
                  "let it fall back to its minimum, or stop, when the meter is lost");
  const std::size_t meter = check::meter_of(site, load);
  if (meter == site::none)
    return open(where, fmt::format("where '{}' that holds back '{}' measures", it.meter, name),
                fmt::format("a meter '{}' in the chain from the supply", it.meter));
  for (const std::size_t fed : loads_from(state, supply))
    if (!check::all_ways_pass(site, state, supply, fed, meter))
      return broken(where,
                    fmt::format("meter '{}' does not see '{}', {}", site.name(meter),
                                check::circuit_name(site, fed), excess),
                    "hold the charge point back by a meter at the connection point");
  return std::nullopt;
}

void judge_state(const AnalysedSite& site, const StateView& state, std::size_t supply,
                 const std::vector<std::size_t>& points, std::vector<Verdict>& verdicts) {
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  const Demand demand = demand_of(site, loads_from(state, supply));
  const auto u0 = site.site.system.line_to_earth;
  const Subject where = site.about(supply, &state);
  if (!facts->service_fuse || !u0 || !(u0->si > 0.0)) {
    verdicts.push_back(
        open(where, "whether house and cars stay below the main fuse",
             facts->service_fuse ? "voltage of the 'system'" : "'fuse' of 'supply'"));
    return;
  }
  const Current most{demand.greatest() / u0->si};
  if (most.si <= facts->service_fuse->si * (1.0 + 1e-9)) {
    verdicts.push_back(
        demand.unknown.empty()
            ? holds(where)
            : open(where, "whether house and cars stay below the main fuse",
                   fmt::format("'load' of {}", check::circuits_in_words(site, demand.unknown))));
    return;
  }
  const std::string excess =
      fmt::format("demand is {} on a fuse of {}", print_rounded(most, 3), *facts->service_fuse);
  bool covered = false;
  std::vector<Verdict> found;
  for (const std::size_t load : points) {
    if (!state.feeds(load)) continue;
    auto verdict = unmanaged(site, state, supply, load, excess);
    if (verdict)
      found.push_back(std::move(*verdict));
    else
      covered = true;
  }
  if (found.empty() && covered) verdicts.push_back(holds(where));
  verdicts.insert(verdicts.end(), found.begin(), found.end());
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  const std::vector<std::size_t> points = check::charge_points(site);
  if (supply == site::none || points.empty()) return verdicts;
  for (const StateView& state : site.states) {
    const bool charging = std::ranges::any_of(points, [&](std::size_t load) {
      return std::ranges::count(loads_from(state, supply), load) > 0;
    });
    if (charging)
      judge_state(site, state, supply, points, verdicts);
    else
      verdicts.push_back(not_relevant(site.about(supply, &state)));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule load_management_covers_the_fuse{
    .id = "ev/load-management-covers-the-fuse",
    .severity = Severity::breach,
    .must_hold =
        "Where cars and house together can exceed the main fuse, management holds the cars back by "
        "a meter at the connection, and falls back to a minimum when it loses that meter.",
    .why = "The main fuse ages for hours and then leaves the whole house dark.",
    .clauses = {"IEC 60364-7-722 722.311.201"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example =
        R"(# 9 kW of house and 7.4 kW of car on 63 A of one phase, and nothing holds the car back.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW, charging: {points: 1, managed by: no}}
      - {id: -F2, name: Cooker, device: B40 2P 30 mA type A, cable: 3×10 mm² 8 m, use: cooking, load: 9 kW}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
