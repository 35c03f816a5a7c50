// Where the country keeps the main neutral joined, nothing opens it on the way to a live load.
//
// Speaks where the profile says "neutral in island: joined" (AU, NZ). Where it says "opened", the
// opposite is asked by transfer/all-live-conductors-isolated-from-grid. A missing joint of neutral
// and earth that follows from the opened neutral is this rule's finding alone.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/unearthed.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Closed;
using network::Edge;
using network::StateView;
using network::Zone;

/// The pole, open or undecided as asked, that lies between the neutral of a zone and the supply's.
std::size_t pole_between(const AnalysedSite& site, const StateView& state, const Zone& zone,
                         Closed how) {
  const std::uint32_t supply = network::source_neutral(site.network, check::supply_of(site));
  const std::uint32_t own = network::source_neutral(site.network, zone.sources.front());
  for (const Edge& edge : site.network.edges) {
    if (edge.kind != network::EdgeKind::pole || site::lines.has(edge.conductor) ||
        network::closed(edge, state.positions) != how)
      continue;
    const bool between = (state.joined(edge.a, supply) && state.joined(edge.b, own)) ||
                         (state.joined(edge.b, supply) && state.joined(edge.a, own));
    if (between) return edge.element;
  }
  return site::none;
}

Verdict judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  if (!zone.has_neutral || check::separated(site, state, zone) != check::Separated::no ||
      check::meant_for_items(site, state, zone))
    return not_relevant(site.about(source, &state));
  if (zone.supply_neutral) return holds(site.about(source, &state));
  const std::size_t opened = pole_between(site, state, zone, Closed::no);
  if (zone.supply_neutral_undecided) {
    const std::size_t asked = pole_between(site, state, zone, Closed::undecided);
    const std::size_t about = asked != site::none ? asked : source;
    return open(site.about(about, &state), "whether the main neutral stays joined",
                fmt::format("'neutral in island' or poles of '{}'", site.name(about)));
  }
  const std::size_t about = opened != site::none ? opened : source;
  Verdict verdict = broken(
      site.about(about, &state),
      opened != site::none
          ? fmt::format("'{}' opens the main neutral, must stay joined", site.name(opened))
          : fmt::format("'{}' feeds without the main neutral, must stay joined", site.name(source)),
      "lead the main neutral unbroken from the main switchboard to these circuits");
  if (opened != site::none && site::facts<site::Device>(site.element(opened)) != nullptr)
    verdict.edits = {check::poles_without_neutral(site, opened)};
  return verdict;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return verdicts;
  if (!check::neutral_stays_joined(site)) return {not_relevant(site.about(supply))};
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      verdicts.push_back(judge_zone(site, state, zone));
  return verdicts;
}

}  // namespace

extern const check::Rule neutral_continuity_where_the_country_asks{
    .id = "earthing/neutral-continuity-where-the-country-asks",
    .severity = Severity::danger,
    .must_hold =
        "Where the country asks for it, the main neutral stays joined to every live load "
        "in every state.",
    .why =
        "There the only link to earth is at the main switchboard: with the neutral opened on "
        "the way, RCDs and breakers of the backup part stop working.",
    .clauses = {"AS/NZS 3000 7.3.8.1.2", "AS/NZS 4777.1:2024 section 5",
                "VDE-AR-E 2510-2 6.410.2 (the opposite)", "IEC 60364-5-55 551.6"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# The inverter opens the neutral in island.
profile: AU
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: A1}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
