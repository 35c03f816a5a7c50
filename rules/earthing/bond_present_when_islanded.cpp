// Cut off from the supply's neutral, what an inverter feeds has a joint of neutral and earth.
//
// Speaks of zones that inverters form alone while the supply's neutral is open. Zones that a
// generator forms are left to generator-with-switched-neutral; several joints to
// one-neutral-bond-per-state; and where the country keeps the supply's neutral joined in island,
// its absence to neutral-continuity-where-the-country-asks. Sources meant for single items are left
// to floating-set-feeds-no-fixed-wiring, those unearthed on purpose to it-island-needs-monitor.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/naming.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/unearthed.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

bool formed_by_generator(const AnalysedSite& site, const Zone& zone) {
  return std::ranges::any_of(zone.sources, [&](std::size_t s) {
    return site::facts<site::Generator>(site.element(s)) != nullptr;
  });
}

/// The circuits of the zone, whose faults trip nothing, and the residual-current devices that look
/// as if they guarded them.
void note_hurt(const AnalysedSite& site, const StateView& state, const Zone& zone,
               Verdict& verdict) {
  verdict.notes =
      check::circuits_by_board(site, check::loads_of(state, zone), "an earth fault trips nothing");
  std::vector<std::size_t> blind;
  for (const network::Loop& loop : state.loops)
    for (const network::RcdOnLoop& rcd : loop.rcds)
      if (std::ranges::count(zone.sources, loop.source) > 0 && !rcd.sees &&
          std::ranges::count(blind, rcd.element) == 0)
        blind.push_back(rcd.element);
  if (!blind.empty())
    verdict.notes.push_back(
        {site.element(blind.front()).where,
         fmt::format("no earth-fault current can pass {}", check::quoted(site, blind))});
}

Verdict judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  const Subject where = site.about(source, &state);
  const bool elsewhere = !zone.has_neutral || zone.supply_neutral ||
                         formed_by_generator(site, zone) || check::neutral_stays_joined(site);
  if (elsewhere || check::separated(site, state, zone) == check::Separated::yes ||
      check::runs_as_it(site, zone) || check::meant_for_items(site, state, zone))
    return not_relevant(where);
  if (!zone.bonds.empty()) return holds(where);
  for (const network::BondPoint& bond : zone.undecided_bonds) {
    const std::string& name = site.name(bond.element);
    if (bond.suppliers)
      return open(where, "whether the supply's neutral stays joined in this state",
                  "'poles' of what parts it, or 'neutral in island' of the inverter");
    return open(site.about(bond.element, &state), "whether the live neutral is joined to earth",
                fmt::format("'bond' of '{}', or its position in this state", name));
  }
  Verdict verdict =
      broken(where, "the live neutral has no joint to earth, must be 1",
             fmt::format("let '{}' or a link beside it join neutral to earth in this state",
                         site.name(source)));
  note_hurt(site, state, zone, verdict);
  return mended_by(std::move(verdict), check::own_joint(site, source));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      verdicts.push_back(judge_zone(site, state, zone));
  return verdicts;
}

}  // namespace

extern const check::Rule bond_present_when_islanded{
    .id = "earthing/bond-present-when-islanded",
    .severity = Severity::danger,
    .must_hold =
        "Fed by an inverter with the supply's neutral opened, the neutral is joined to "
        "earth on the source's side.",
    .why =
        "Without it no earth-fault current can flow: RCDs look healthy, their test button "
        "works, and they cannot trip on a real fault.",
    .clauses = {"IEC 60364-5-55 551.4.3.2.1", "IEC 60364-8-82", "BS 7671 551.4.3.2.1, 826.1.1.2.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# In island nothing joins neutral to earth.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
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
