// The joint of neutral and earth stands so near to the source that nothing is fed without it.
//
// Speaks where a state has just one joint, made on site, and a device between a source and the
// joint could open and leave circuits alive that it does not feed. A joint behind an RCD is left to
// bond-upstream-of-every-rcd, one that is not on a generator's side of the transfer to
// generator-with-switched-neutral, an inverter past the bypass switch to
// transfer/bypass-all-inverters-together, the supplier's own to the rules on PENs.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

/// A device that opens between a source and the joint, and what stays alive then.
struct Gap {
  std::size_t source = site::none;
  std::size_t device = site::none;
  std::vector<std::size_t> alive;
  bool sure = true;  ///< false: the file does not say whether the device opens the neutral
};

bool guards(const network::Loop& loop, std::size_t device) {
  return std::ranges::count(loop.line_guards, device) > 0;
}

/// Whether another rule speaks of a joint behind this device.
bool is_rcd_of_a_circuit(const StateView& state, std::size_t device) {
  return std::ranges::any_of(state.loops, [&](const network::Loop& loop) {
    return std::ranges::any_of(
        loop.rcds, [&](const network::RcdOnLoop& rcd) { return rcd.element == device; });
  });
}

std::vector<Gap> gaps_from(const AnalysedSite& site, const StateView& state, std::size_t source,
                           const network::Edge& joint) {
  std::vector<Gap> gaps;
  const network::WaysFrom ways(site.network, site.site, state.positions,
                               *network::source_point(site.network, source));
  const network::Node& at = site.network.nodes[joint.a];
  for (const std::size_t device : ways.neutral_to(at.element, at.terminal).devices) {
    const network::Broken broken = network::broken_by(site.element(device));
    const bool opens = broken.opened.has(site::Conductor::n);
    if (!opens && !broken.undecided.has(site::Conductor::n)) continue;
    if (is_rcd_of_a_circuit(state, device)) continue;
    Gap gap{.source = source, .device = device, .alive = {}, .sure = opens};
    for (const network::Loop& loop : state.loops)
      if (loop.source == source && !guards(loop, device)) gap.alive.push_back(loop.load);
    if (!gap.alive.empty()) gaps.push_back(std::move(gap));
  }
  return gaps;
}

/// Whether an inverter stays on the bus that a bypass feeds, past the switch that parts the others.
bool left_out_of_bypass(const AnalysedSite& site, std::size_t source) {
  return std::ranges::any_of(site.states, [&](const StateView& state) {
    if (state.state->kind != site::StateKind::bypass) return false;
    return std::ranges::count(check::bypassed_outputs(site, state).joined, source) > 0;
  });
}

/// Other rules speak of a joint on the far side of a generator's transfer, and of an inverter that
/// is left out of the bypass.
bool elsewhere(const AnalysedSite& site, const StateView& state, std::size_t source,
               const network::BondPoint& bond) {
  const bool generator = site::facts<site::Generator>(site.element(source)) != nullptr;
  if (generator) return check::source_beside(site, state, bond) != source;
  return left_out_of_bypass(site, source);
}

Verdict told(const AnalysedSite& site, const StateView& state, std::size_t bond, const Gap& gap) {
  const Subject where = site.about(bond, &state);
  const std::string& device = site.name(gap.device);
  if (!gap.sure)
    return open(where,
                fmt::format("whether '{}' can part {} from the joint at '{}'", device,
                            check::quoted(site, gap.source), site.name(bond)),
                fmt::format("poles of '{}' (device: … 2P, 4P)", device));
  Verdict verdict =
      broken(where,
             fmt::format("opening '{}' leaves {} alive without the joint at '{}'", device,
                         check::circuits_in_words(site, gap.alive), site.name(bond)),
             fmt::format("join neutral to earth at the bar that {} feeds first, ahead of '{}'",
                         check::quoted(site, gap.source), device));
  verdict.notes.push_back(
      {site.element(gap.device).where, fmt::format("'{}' stands between {} and the joint", device,
                                                   check::quoted(site, gap.source))});
  return verdict;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                std::vector<Verdict>& verdicts) {
  const bool one = zone.has_neutral && !zone.supply_neutral && zone.bonds.size() == 1 &&
                   !zone.bonds.front().suppliers;
  if (!one) {
    verdicts.push_back(not_relevant(site.about(zone.sources.front(), &state)));
    return;
  }
  const network::BondPoint& bond = zone.bonds.front();
  const network::Edge* joint = network::bond_edge(site.network, bond.element);
  std::vector<Gap> gaps;
  for (const std::size_t source : zone.sources) {
    if (source == bond.element || elsewhere(site, state, source, bond)) continue;
    auto more = gaps_from(site, state, source, *joint);
    gaps.insert(gaps.end(), more.begin(), more.end());
  }
  if (gaps.empty()) {
    verdicts.push_back(holds(site.about(bond.element, &state)));
    return;
  }
  const auto sure = std::ranges::find(gaps, true, &Gap::sure);
  verdicts.push_back(told(site, state, bond.element, sure == gaps.end() ? gaps.front() : *sure));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      judge_zone(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule bond_at_the_first_common_point{
    .id = "earthing/bond-at-the-first-common-point",
    .severity = Severity::breach,
    .must_hold =
        "The neutral-earth link of an island sits at the source, its isolator or the first busbar "
        "after it, so that no device can part it from what stays alive.",
    .why =
        "Anything ahead of the link is unearthed once a device between the two opens: RCDs there "
        "look healthy and cannot trip.",
    .clauses = {"IEC 60364-5-54 543.4", "IEC 60364-8-82"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example =
        R"(# The link sits in the sub-board; its feeder's switch takes it away from the other board.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A4, contact: yes, rest: open, closed in: [island], proved by: [-T1]}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
  +A4:
    feed: [A3, -Q4 switch-disconnector 40 A 2P, -W4 3×6 mm² 9 m]
    circuits:
      - {id: -F41, name: Sockets, device: B16 1P+N 30 mA type A two-way, cable: 3×2.5 mm² 9 m, use: sockets}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
