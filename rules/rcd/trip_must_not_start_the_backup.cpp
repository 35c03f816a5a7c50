// Speaks of RCDs ahead of the place where the backup looks for the grid: an inverter that forms the
// voltage when it is gone, or a device that transfers by itself to another source. Each circuit
// that the backup goes on feeding needs an RCD of its own behind the transfer. Two RCDs in series
// that do not wait for each other are left to selectivity; circuits that need additional protection
// and lose it to between-source-and-load-in-every-state; circuits whose breaker the backup cannot
// trip to fault-protection-when-breakers-cannot-trip. A breaker ahead that is no larger than one
// behind it, and so opens first, is advice.

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/breaker_trips.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

// NOLINTBEGIN(bugprone-unchecked-optional-access): whoever calls has asked whether it is given.

using check::AnalysedSite;
using network::Loop;
using network::StateView;

/// A device ahead of the place where the backup looks for the grid, in one state.
struct Ahead {
  const StateView* state = nullptr;
  std::size_t device = site::none;
  std::size_t backup = site::none;  ///< the source that takes over
  friend auto operator<=>(const Ahead&, const Ahead&) = default;
};

bool is_supply(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Supply>(site.element(element)) != nullptr;
}

/// Devices on the way from the supply to sources that run beside it and can go on alone.
void add_ahead_of_inverters(const AnalysedSite& site, std::set<Ahead>& all) {
  for (const check::SourceWay& way : check::ways_between_sources(site)) {
    if (!is_supply(site, way.from)) continue;
    const network::SourcePoint* point = network::source_point(site.network, way.to);
    if (!point->forming) continue;
    for (const std::size_t device : way.lines.devices)
      all.insert({way.state, device, way.to});
  }
}

/// The sources beside the supply that a transfer may choose by itself.
std::vector<std::size_t> chosen_by(const AnalysedSite& site,
                                   const site::AutomaticTransfer& automatic) {
  std::vector<std::size_t> sources;
  for (const std::string& name : automatic.priority)
    if (const std::size_t source = site.site.find(name);
        source != site::none && !is_supply(site, source))
      sources.push_back(source);
  return sources;
}

/// Devices on the way from the supply to a terminal of the element in this state.
std::set<std::size_t> ahead_of(const AnalysedSite& site, const StateView& state,
                               const network::SourcePoint& supply, std::size_t element) {
  const network::WaysFrom ways(site.network, site.site, state.positions, supply);
  std::set<std::size_t> devices;
  for (std::size_t t = 0; t < site.element(element).terminals.size(); ++t) {
    const network::Passage way = ways.lines_to(element, t);
    if (way.joined && std::ranges::count(way.devices, element) == 0)
      devices.insert(way.devices.begin(), way.devices.end());
  }
  return devices;
}

/// Adds the devices ahead of one transfer, with each source that it may choose.
void add_ahead_of(const AnalysedSite& site, std::size_t transfer,
                  const std::vector<std::size_t>& sources, std::set<Ahead>& all) {
  for (const StateView& state : site.states)
    for (const network::SourcePoint& point : site.network.sources) {
      if (!point.utility || !state.supply_runs) continue;
      for (const std::size_t device : ahead_of(site, state, point, transfer))
        for (const std::size_t source : sources)
          all.insert({&state, device, source});
    }
}

/// Devices on the way from the supply to what transfers by itself, with each source it may choose.
void add_ahead_of_transfers(const AnalysedSite& site, std::set<Ahead>& all) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device != nullptr && device->automatic)
      add_ahead_of(site, e, chosen_by(site, *device->automatic), all);
  }
}

/// The loop of a circuit from a source in a state without supply, or null.
const Loop* taken_over(const AnalysedSite& site, std::size_t load, std::size_t source) {
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops)
      if (loop.load == load && loop.source == source && !check::supply_feeds(site, state, loop))
        return &loop;
  return nullptr;
}

const StateView& state_of(const AnalysedSite& site, const Loop& wanted) {
  const auto holds_loop = [&](const StateView& state) {
    return std::ranges::any_of(state.loops, [&](const Loop& l) { return &l == &wanted; });
  };
  return *std::ranges::find_if(site.states, holds_loop);
}

/// Whether another rule speaks of the circuit that has no RCD in island.
bool left_to_others(const AnalysedSite& site, const Loop& loop) {
  if (check::additional_protection(site, loop).answer == check::Need::Answer::yes) return true;
  if (loop.return_path != network::ReturnPath::metallic) return true;
  return check::earth_fault(site, state_of(site, loop), loop).ending == check::Ending::never;
}

/// What one device ahead does to the circuits behind it, over all states.
struct Found {
  std::set<const StateView*> states;
  std::set<std::size_t> backups;
  std::set<std::size_t> unguarded;  ///< circuits without an RCD behind the transfer
  std::set<std::size_t> larger;     ///< devices of circuits that are no smaller than this one
  bool guards_any = false;
};

bool limits(const site::Device& device) {
  return device.kind == site::DeviceKind::breaker || device.kind == site::DeviceKind::rcbo ||
         device.kind == site::DeviceKind::fuse || device.kind == site::DeviceKind::fuse_switch;
}

void compare_ratings(const AnalysedSite& site, const Ahead& ahead, const Loop& loop, Found& found) {
  const auto& upper = std::get<site::Device>(site.element(ahead.device).facts);
  const std::size_t last = check::circuit_device(loop);
  const auto* lower = site::facts<site::Device>(site.element(last));
  if (lower == nullptr || last == ahead.device || !limits(upper) || !limits(*lower)) return;
  if (upper.rated_current && lower->rated_current && *upper.rated_current <= *lower->rated_current)
    found.larger.insert(last);
}

void look_at(const AnalysedSite& site, const Ahead& ahead, const Loop& loop, Found& found) {
  if (!is_supply(site, loop.source)) return;
  if (std::ranges::count(loop.line_guards, ahead.device) == 0) return;
  const Loop* island = taken_over(site, loop.load, ahead.backup);
  if (island == nullptr || std::ranges::count(island->line_guards, ahead.device) > 0) return;
  found.guards_any = true;
  compare_ratings(site, ahead, loop, found);
  if (check::residual(site, ahead.device) == nullptr || !island->rcds.empty()) return;
  if (!left_to_others(site, *island)) found.unguarded.insert(loop.load);
}

Verdict judge(const AnalysedSite& site, std::size_t device, const Found& found,
              const StateView& state) {
  const Subject subject = site.about(device, &state);
  const std::string& name = site.name(device);
  const std::vector<std::size_t> backups(found.backups.begin(), found.backups.end());
  if (!found.unguarded.empty()) {
    const std::vector<std::size_t> loads(found.unguarded.begin(), found.unguarded.end());
    Verdict verdict = broken(
        subject,
        fmt::format("a fault of {} trips '{}' and starts {} into it",
                    check::circuits_in_words(site, loads), name, check::quoted(site, backups)),
        "fit an RCD in each of these circuits, behind the transfer, to which this one is "
        "selective");
    verdict.notes = check::circuit_notes(site, loads, "has no RCD behind the transfer");
    return verdict;
  }
  if (found.larger.empty()) return found.guards_any ? holds(subject) : not_relevant(subject);
  const auto& upper = std::get<site::Device>(site.element(device).facts);
  Verdict verdict =
      broken(subject,
             fmt::format("'{}' of {} is no larger than {} behind it", name, *upper.rated_current,
                         check::quoted(site, {found.larger.begin(), found.larger.end()})),
             "fit a larger one ahead, or smaller ones in the circuits, so that a "
             "fault does not start the backup");
  verdict.severity = Severity::advice;
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::set<Ahead> all;
  add_ahead_of_inverters(site, all);
  add_ahead_of_transfers(site, all);
  std::map<std::size_t, Found> by_device;
  for (const Ahead& ahead : all) {
    Found& found = by_device[ahead.device];
    found.states.insert(ahead.state);
    found.backups.insert(ahead.backup);
    for (const Loop& loop : ahead.state->loops)
      look_at(site, ahead, loop, found);
  }
  std::vector<Verdict> verdicts;
  for (const auto& [device, found] : by_device)
    for (const StateView* state : found.states)
      verdicts.push_back(judge(site, device, found, *state));
  return verdicts;
}

// NOLINTEND(bugprone-unchecked-optional-access)

}  // namespace

extern const check::Rule trip_must_not_start_the_backup{
    .id = "rcd/trip-must-not-start-the-backup",
    .severity = Severity::danger,
    .must_hold =
        "No RCD ahead of the place where the backup looks for the grid trips for a fault in the "
        "circuits backed up, unless RCDs behind the transfer clear that fault by themselves.",
    .why =
        "The RCD ahead trips, the system takes it for a power cut, transfers to the battery and "
        "puts voltage back on the fault.",
    .clauses = {"IEC 60364-5-53 536", "IEC 60364-8-82", "BS 7671 536.4.1.4"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Incomer that starts the backup into the fault}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 300 mA type A S two-way]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Boiler, device: B10 1P+N 6 kA, cable: 3×1.5 mm² 12 m, use: fixed}
inverters:
  -T1: {kind: battery, backup side: yes, power: 15 kVA, fault current: 130 A, neutral in island: opened, bond: closes in island, bond rest: open, no dc fault current: yes}
chains:
  - [A1, -F2 C63 2P 6 kA two-way, -W3 3×16 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
