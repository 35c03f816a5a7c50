// Speaks about breakers, RCBOs and RCDs that a source feeds from their load side ("2", the lower
// end as drawn) while they are closed or after they have opened. A plain breaker without residual
// side has no electronics: where the file does not call it one-way, it holds.

#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

bool is_closed(const AnalysedSite& site, const StateView& state, std::size_t device) {
  const int own = site.network.find_switch(device);
  return own >= 0 && state.positions.of[static_cast<std::size_t>(own)] == 1;
}

Verdict one_way(const AnalysedSite& site, const StateView& state, std::size_t device) {
  const Subject subject = site.about(device, &state);
  const auto sources = check::sources_below(site, state, device);
  if (sources.empty()) return holds(subject);
  Verdict verdict =
      broken(subject,
             fmt::format("one-way '{}' has {} on its load side, must be two-way", site.name(device),
                         check::quoted(site, sources.front())),
             "fit a device suited to feed from both sides; a plain breaker will do where no RCD "
             "is needed");
  for (const std::size_t source : sources)
    verdict.notes.push_back({site.element(source).where, fmt::format("{} holds it live from below",
                                                                     check::quoted(site, source))});
  return verdict;
}

/// Devices that lie between two sources that run joined, by state.
std::map<const StateView*, std::set<std::size_t>> between_sources(const AnalysedSite& site) {
  std::map<const StateView*, std::set<std::size_t>> between;
  for (const check::SourceWay& way : check::ways_between_sources(site)) {
    auto& devices = between[way.state];
    devices.insert(way.lines.devices.begin(), way.lines.devices.end());
    devices.insert(way.lines.detour_devices.begin(), way.lines.detour_devices.end());
  }
  return between;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  if (!site.profile.text("one-way devices").starts_with("forbidden")) return verdicts;
  const auto between = between_sources(site);
  for (const StateView& state : site.states)
    for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
      const auto* device = site::facts<site::Device>(site.element(e));
      if (device == nullptr || !is_closed(site, state, e)) continue;
      if (!device->residual && device->kind != site::DeviceKind::breaker) continue;
      if (device->direction == site::FeedDirection::one_way) {
        verdicts.push_back(one_way(site, state, e));
        continue;
      }
      const auto here = between.find(&state);
      if (here == between.end() || here->second.count(e) == 0) continue;
      if (device->direction || !device->residual)
        verdicts.push_back(holds(site.about(e, &state)));
      else
        verdicts.push_back(
            open(site.about(e, &state),
                 fmt::format("whether '{}' may be fed from both sides", site.name(e)),
                 fmt::format("direction of '{}' (device: … two-way, or one-way)", site.name(e))));
    }
  return verdicts;
}

}  // namespace

extern const check::Rule bidirectional_where_energy_reverses{
    .id = "rcd/bidirectional-where-energy-reverses",
    .severity = Severity::danger,
    .must_hold =
        "Breakers, RCBOs and RCDs that can be fed from both sides in any state are suited "
        "to it; a device marked line and load is not.",
    .why =
        "In many compact RCBOs the trip coil lives from the load side: fed from there after "
        "opening it burns out, and the next fault is not cleared.",
    .clauses = {"BS 7671 530.3.201 (A3:2024)", "IEC 61009-1", "IEC 60364-7-712 712.533"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"one-way devices"},
    .example = R"(site: {name: Battery on a one-way RCBO}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: battery, power: 3.7 kVA, battery: {energy: 5 kWh}}
chains:
  - [A1, -F5 C20 2P 30 mA type A one-way, -W5 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
