// The joint of neutral and earth lies on the source's side of every RCD.
//
// Speaks where a state has just one joint and it lies behind an RCD. Several joints are left to the
// rules that count them; a PEN led through an RCD to no-pen-through-rcd-or-switch. Joints that
// close only on the way from one state to another are not looked at yet.
#include <algorithm>
#include <set>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "check/rule.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

/// Whether the joint is cut off from every source of the zone once this RCD is taken out.
bool behind(const AnalysedSite& site, const StateView& state, const Zone& zone, std::uint32_t joint,
            std::size_t rcd) {
  std::vector<bool> without(site.site.elements.size(), false);
  without[rcd] = true;
  return std::ranges::none_of(zone.sources, [&](std::size_t source) {
    return network::joined_without(site.network, state.positions,
                                   network::source_neutral(site.network, source), joint, without);
  });
}

// What parts the joint from a source lies on every way between them, so on any one: only devices on
// one way from each source have to be tried.
std::vector<bool> perhaps_between(const AnalysedSite& site, const StateView& state,
                                  const Zone& zone, std::uint32_t joint) {
  std::vector<bool> between(site.site.elements.size(), true);
  for (const std::size_t source : zone.sources) {
    const std::uint32_t neutral = network::source_neutral(site.network, source);
    if (!network::joined_without(site.network, state.positions, neutral, joint, {})) continue;
    std::vector<bool> here(between.size(), false);
    for (const std::uint32_t e : network::way(site.network, state.positions, neutral, joint, {}))
      if (const std::size_t element = site.network.edges[e].element; element != site::none)
        here[element] = between[element];
    between = std::move(here);
  }
  return between;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                std::vector<Verdict>& verdicts) {
  if (zone.bonds.size() != 1 || zone.bonds.front().suppliers) {
    verdicts.push_back(not_relevant(site.about(zone.sources.front(), &state)));
    return;
  }
  const std::size_t bond = zone.bonds.front().element;
  const network::Edge* joint = network::bond_edge(site.network, bond);
  const std::vector<bool> between = perhaps_between(site, state, zone, joint->a);
  std::set<std::size_t> asked;
  bool all_ahead = true;
  for (const network::Loop& loop : state.loops) {
    if (std::ranges::count(zone.sources, loop.source) == 0) continue;
    for (const network::RcdOnLoop& rcd : loop.rcds) {
      if (!asked.insert(rcd.element).second || !between[rcd.element]) continue;
      if (!behind(site, state, zone, joint->a, rcd.element)) continue;
      all_ahead = false;
      Verdict verdict = broken(site.about(bond, &state),
                               fmt::format("'{}' joins neutral to earth behind RCD '{}'",
                                           site.name(bond), site.name(rcd.element)),
                               fmt::format("move '{}' to the source's side of '{}'",
                                           site.name(bond), site.name(rcd.element)));
      verdict.notes.push_back({site.element(rcd.element).where, "this RCD cannot see the fault"});
      verdicts.push_back(std::move(verdict));
    }
  }
  if (all_ahead) verdicts.push_back(holds(site.about(bond, &state)));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      judge_zone(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule bond_upstream_of_every_rcd{
    .id = "earthing/bond-upstream-of-every-rcd",
    .severity = Severity::danger,
    .must_hold =
        "The neutral-earth link of a state lies on the source side of every RCD that "
        "protects loads in it.",
    .why =
        "A link on the load side leads the fault current back through the RCD's core, where it "
        "cancels, or keeps the RCD tripped by load current.",
    .clauses = {"IEC 60364-4-41 411.4.5", "IEC 60364-5-53 531.3", "BS 7671 411.4.5, 531.3"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The link sits on the bar behind the RCD.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A3, contact: yes, rest: open, closed in: [island], proved by: [-Q1]}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
devices:
  -Q1: {device: contactor 63 A 2P, mirror contact: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q10 switch-disconnector 63 A 2P isolating lockable]}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m, -F30 RCD 40 A 2P 30 mA type A general two-way]
    circuits:
      - {id: -F31, device: B16 1P+N two-way, cable: 3×2.5 mm² 10 m, use: fixed}
chains:
  - [A1, -W2 3×6 mm² 3 m, -Q1, -T1:ac]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
