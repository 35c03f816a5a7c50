// Speaks about breakers, RCBOs and RCDs that a source feeds from their load side ("2", the lower
// end as drawn), whether they are closed or open: once open, the coil must not live on. A plain
// breaker without residual side has no electronics: where the file does not call it one-way, it
// holds.

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

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
  return mended_by(std::move(verdict), {DeviceWords{site.name(device), "two-way"}});
}

/// The sides of a device that a source keeps live, taken over all states.
struct Sides {
  bool above = false;
  bool below = false;
};

/// Adds the sides on which sources that form the voltage reach the device without passing it.
void add_sides(const AnalysedSite& site, const StateView& state,
               std::map<std::size_t, Sides>& all) {
  for (const network::Zone& zone : state.zones)
    for (const std::size_t source : zone.sources) {
      const network::WaysFrom ways(site.network, site.site, state.positions,
                                   *network::source_point(site.network, source));
      const auto reached = [&](std::size_t device, std::size_t terminal) {
        const network::Passage way = ways.lines_to(device, terminal);
        return way.joined && std::ranges::count(way.devices, device) == 0;
      };
      for (auto& [device, sides] : all) {
        sides.above = sides.above || reached(device, 0);
        sides.below = sides.below || reached(device, 1);
      }
    }
}

/// Breakers, RCBOs and RCDs that are not called one-way, with the sides that are live.
std::map<std::size_t, Sides> live_sides(const AnalysedSite& site) {
  std::map<std::size_t, Sides> all;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr || device->direction == site::FeedDirection::one_way) continue;
    if (device->residual || device->kind == site::DeviceKind::breaker) all[e] = {};
  }
  for (const StateView& state : site.states)
    add_sides(site, state, all);
  for (const check::SourceWay& way : check::ways_between_sources(site))
    for (const auto* devices : {&way.lines.devices, &way.lines.detour_devices})
      for (const std::size_t device : *devices)
        if (const auto found = all.find(device); found != all.end()) found->second = {true, true};
  return all;
}

Verdict not_one_way(const AnalysedSite& site, std::size_t device, const Sides& sides) {
  const auto& facts = std::get<site::Device>(site.element(device).facts);
  const Subject subject = site.about(device);
  if (!sides.above || !sides.below) return not_relevant(subject);
  if (facts.direction || !facts.residual) return holds(subject);
  return open(subject, fmt::format("whether '{}' may be fed from both sides", site.name(device)),
              fmt::format("direction of '{}' (device: … two-way, or one-way)", site.name(device)));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  if (!site.profile.text("one-way devices").starts_with("forbidden")) return verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr || device->direction != site::FeedDirection::one_way) continue;
    if (!device->residual && device->kind != site::DeviceKind::breaker) continue;
    for (const StateView& state : site.states)
      verdicts.push_back(one_way(site, state, e));
  }
  for (const auto& [device, sides] : live_sides(site))
    verdicts.push_back(not_one_way(site, device, sides));
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
