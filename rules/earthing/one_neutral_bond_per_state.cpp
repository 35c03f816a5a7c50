// Every live neutral meets earth exactly once.
//
// Speaks when the count is wrong and no rule of a narrower scope knows the cause: two local joints
// together while the supply's neutral is open; the supply's own joint missing; a load whose
// neutral reaches no source that feeds it. Left to others, so that one cause is one finding:
// - a local joint while the supply's neutral is joined: no-second-bond-while-on-grid,
//   no-local-bond-on-tt-while-on-grid, pen-split-once, neutral-poles-of-the-transfer,
//   generator-with-common-neutral (lib/check/second_bonds.hpp says which);
// - no joint in island: bond-present-when-islanded; on a generator:
// generator-with-switched-neutral;
// - a contact that is closed for want of power: bond-relay-rest-position; no joint on purpose:
//   it-island-needs-monitor; a circuit whose line and neutral belong to different sides of the
//   transfer: neutrals-of-backup-and-other-circuits-apart;
//   where the country has the neutral joined: neutral-continuity-where-the-country-asks.
// A source that no state shows at work leaves the question open, and so does a state on the grid
// without its twin: the supply has failed, the inverter feeds, and no hand has moved anything yet.
// No rule at all looks at what the file does not show.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/naming.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/separated.hpp"
#include "check/sides.hpp"
#include "check/unpowered.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::BondPoint;
using network::StateView;
using network::Zone;

/// Several joints at once while the supply's neutral is open. One that is closed on the grid as
/// well has been reported there.
Verdict judge_island(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const Subject where = site.about(zone.sources.front(), &state);
  std::vector<BondPoint> made;
  for (const BondPoint& bond : zone.bonds)
    if (!check::closed_on_grid(site, bond.element) &&
        !check::closed_for_want_of_power(site, state, bond.element))
      made.push_back(bond);
  if (made.size() >= 2) {
    Verdict verdict = broken(
        site.about(made.back().element, &state),
        fmt::format("neutral and earth are joined {} times, must be 1", made.size()),
        fmt::format("keep one of these joints in this state and open the others; '{}' is the "
                    "nearest to change",
                    site.name(made.back().element)));
    for (std::size_t i = 0; i + 1 < made.size(); ++i)
      verdict.notes.push_back(
          {made[i].where, fmt::format("'{}' joins them too", site.name(made[i].element))});
    return mended_by(std::move(verdict), check::without_joint(site, made.back().element));
  }
  if (zone.bonds.size() != 1) return not_relevant(where);
  for (const BondPoint& bond : zone.undecided_bonds) {
    if (bond.suppliers) return not_relevant(where);
    return open(
        site.about(bond.element, &state),
        fmt::format("whether '{}' is a second joint of neutral and earth", site.name(bond.element)),
        fmt::format("position or 'bond' of '{}' in this state", site.name(bond.element)));
  }
  return holds(where);
}

Verdict judge_grid(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t supply = check::supply_of(site);
  const Subject where = site.about(supply, &state);
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (zone.bonds.size() > 1) return not_relevant(where);
  if (zone.bonds.size() == 1)
    return zone.undecided_bonds.empty() ? holds(where) : not_relevant(where);
  if (!facts->earthing)
    return open(where, "whether the supply's neutral is earthed", "'earthing' of 'supply'");
  if (*facts->earthing == site::Earthing::it) return not_relevant(where);
  if (!zone.undecided_bonds.empty()) return not_relevant(where);
  return broken(where, "the supply's neutral has no joint to earth, must be 1",
                "have the supplier's earth or the split of its PEN found before anything is fed");
}

/// A pole that stands open between the neutral of a load and one of its sources.
std::size_t open_neutral_pole(const AnalysedSite& site, const StateView& state,
                              std::uint32_t load_neutral) {
  for (const network::Edge& edge : site.network.edges)
    if (edge.kind == network::EdgeKind::pole && !site::lines.has(edge.conductor) &&
        network::closed(edge, state.positions) == network::Closed::no &&
        (state.joined(edge.a, load_neutral) || state.joined(edge.b, load_neutral)))
      return edge.element;
  return site::none;
}

/// The live loads on that neutral, each once.
std::vector<std::size_t> loads_on(const AnalysedSite& site, const StateView& state,
                                  std::uint32_t neutral) {
  std::vector<std::size_t> loads;
  for (const network::Loop& loop : state.loops)
    if (state.joined(site.network.neutral(loop.load, 0), neutral) &&
        std::ranges::count(loads, loop.load) == 0)
      loads.push_back(loop.load);
  return loads;
}

/// Loads alive on a neutral that reaches no source that feeds it: one verdict for each such
/// neutral.
void judge_lost_neutrals(const AnalysedSite& site, const StateView& state,
                         std::vector<Verdict>& verdicts) {
  std::vector<std::uint32_t> told;
  for (const network::Loop& loop : state.loops) {
    const std::uint32_t own = site.network.neutral(loop.load, 0);
    if (loop.neutral_joined || own == network::no_node) continue;
    if (!check::neutral_lost(site, state, loop.load)) continue;
    if (check::across_sides(site, loop.load) && !check::neutral_stays_joined(site)) continue;
    if (std::ranges::count(told, state.component[own]) > 0) continue;
    told.push_back(state.component[own]);
    const std::size_t pole = open_neutral_pole(site, state, own);
    Verdict verdict = broken(site.about(pole != site::none ? pole : loop.load, &state),
                             "a live circuit's neutral reaches no source that feeds it",
                             "join this neutral to the source that feeds the lines");
    verdict.notes =
        check::circuits_by_board(site, loads_on(site, state, own), "fed on this neutral");
    verdicts.push_back(std::move(verdict));
  }
}

/// Whether some state shows the source feeding by itself: a local one without the supply.
bool shown_at_work(const AnalysedSite& site, const network::SourcePoint& source) {
  const std::size_t supply = check::supply_of(site);
  const auto shows = [&](const Zone& zone) {
    return std::ranges::count(zone.sources, source.element) > 0 &&
           (source.utility || std::ranges::count(zone.sources, supply) == 0);
  };
  return std::ranges::any_of(
      site.states, [&](const StateView& state) { return std::ranges::any_of(state.zones, shows); });
}

/// Whether the file leaves out if an inverter makes a voltage of its own.
bool forming_unknown(const AnalysedSite& site, std::size_t element) {
  const auto* inverter = site::facts<site::Inverter>(site.element(element));
  return inverter != nullptr && !inverter->forming && !inverter->has_backup_side;
}

/// What no state shows is open.
void judge_unshown(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  for (const network::SourcePoint& source : site.network.sources) {
    if (shown_at_work(site, source)) continue;
    const std::string name = check::quoted(site, source.element);
    if (source.forming) {
      verdicts.push_back(open(
          site.about(source.element), fmt::format("what happens when {} feeds the loads", name),
          fmt::format("a state in which {} runs{}", name,
                      source.utility ? "" : " without the supply (states: island: …)")));
    } else if (forming_unknown(site, source.element)) {
      verdicts.push_back(open(site.about(source.element),
                              fmt::format("whether {} makes a voltage of its own", name),
                              fmt::format("'grid' of {}: forming or following", name)));
    }
  }
}

bool by_hand(const AnalysedSite& site, const network::Switch& it) {
  const auto* device = site::facts<site::Device>(site.element(it.element));
  return device != nullptr && device->operation == site::Operation::hand;
}

/// Whether something that a hand moves stands differently.
bool hand_has_moved(const AnalysedSite& site, const StateView& a, const StateView& b) {
  for (std::size_t s = 0; s < site.network.switches.size(); ++s)
    if (by_hand(site, site.network.switches[s]) && a.positions.of[s] != b.positions.of[s])
      return true;
  return false;
}

/// Whether a source forms a voltage of its own in that state, without the supply.
bool feeds_alone(const StateView& state, std::size_t source) {
  return !state.supply_runs && std::ranges::any_of(state.zones, [&](const Zone& zone) {
    return std::ranges::count(zone.sources, source) > 0;
  });
}

bool feeds_alone_anywhere(const AnalysedSite& site, std::size_t source) {
  return std::ranges::any_of(site.states,
                             [&](const StateView& state) { return feeds_alone(state, source); });
}

/// An inverter that takes over by itself does so with the switches as the grid left them.
void judge_lost_grid(const AnalysedSite& site, const StateView& state,
                     std::vector<Verdict>& verdicts) {
  if (!state.supply_runs) return;
  for (const std::size_t e : state.state->running) {
    const auto* inverter = site::facts<site::Inverter>(site.element(e));
    if (inverter == nullptr || !inverter->has_backup_side || !feeds_alone_anywhere(site, e))
      continue;
    const auto shows = [&](const StateView& other) {
      return feeds_alone(other, e) && !hand_has_moved(site, state, other);
    };
    if (std::ranges::any_of(site.states, shows)) continue;
    verdicts.push_back(
        open(site.about(e, &state),
             fmt::format("what happens when the supply fails and '{}' takes over", site.name(e)),
             "a state with every hand-operated switch as it stands here, the supply not running"));
    return;
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  judge_unshown(site, verdicts);
  for (const StateView& state : site.states)
    judge_lost_grid(site, state, verdicts);
  for (const StateView& state : site.states) {
    for (const Zone& zone : state.zones) {
      if (!zone.has_neutral || check::separated(site, state, zone) == check::Separated::yes)
        verdicts.push_back(not_relevant(site.about(zone.sources.front(), &state)));
      else if (zone.supply_neutral)
        verdicts.push_back(judge_grid(site, state, zone));
      else
        verdicts.push_back(judge_island(site, state, zone));
    }
    judge_lost_neutrals(site, state, verdicts);
  }
  return verdicts;
}

}  // namespace

extern const check::Rule one_neutral_bond_per_state{
    .id = "earthing/one-neutral-bond-per-state",
    .severity = Severity::danger,
    .must_hold = "In every state each live neutral is joined to earth exactly once.",
    .why =
        "Unjoined, an earth fault opens neither breaker nor RCD and metalwork stays live. Joined "
        "twice, load current returns through protective conductors and RCDs go blind.",
    .clauses = {"IEC 60364-4-41 411.4 to 411.6", "IEC 60364-5-55 551.4.3.2",
                "IEC 60364-8-82 (island neutral earthing)", "BS 7671 551.4.3.2.1, 826.1.1.2",
                "AS/NZS 3000 7.3.8.1.1(c)"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# Both inverters join neutral to earth in island.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
types:
  five kVA: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
inverters:
  -T1: {use: five kVA}
  -T2: {use: five kVA}
synchronised: [[-T1, -T2]]
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -W3 3×6 mm² 3 m, -T2:ac]
  - [-T1:backup, -W4 3×6 mm² 3 m, -WB1]
  - [-T2:backup, -W5 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1, -T2]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
