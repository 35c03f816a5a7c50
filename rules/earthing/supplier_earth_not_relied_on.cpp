// Where a TN site runs apart from the public supply, it has an electrode of its own.
//
// Speaks in states in which a local source runs and the supply does not. A danger where the
// fault's way home really leads over the supplier's earth; a breach where it does not and only
// the electrode is missing: the loop over the local link is then closed without any electrode
// (field experience as against the letter of the clause). The value of the electrode is left to
// island-electrode-value.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/separated.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

bool earthing_is_tn(site::Earthing earthing) {
  return earthing == site::Earthing::tn_s || earthing == site::Earthing::tn_c_s;
}

std::size_t main_terminal(const AnalysedSite& site) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (site::facts<site::MainEarthingTerminal>(site.element(e)) != nullptr) return e;
  return site::none;
}

bool loops_over_supplier(const StateView& state, const Zone& zone, std::size_t supply) {
  return std::ranges::any_of(state.loops, [&](const network::Loop& loop) {
    return std::ranges::count(zone.sources, loop.source) > 0 &&
           std::ranges::count(loop.electrodes, supply) > 0;
  });
}

Verdict judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                   bool has_electrode) {
  const std::size_t supply = check::supply_of(site);
  const std::size_t main = main_terminal(site);
  const bool main_is_named = main != site::none && site.element(main).where.known();
  const Subject where = site.about(main_is_named ? main : supply, &state);
  if (check::separated(site, state, zone) == check::Separated::yes) return not_relevant(where);
  if (has_electrode) return holds(where);
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (!facts->earthing)
    return open(where, "whether the earth in this state is the supplier's",
                "'earthing' of 'supply'");
  Verdict verdict = broken(where, "no electrode of the site's own on the main earthing terminal",
                           "join an electrode to the main earthing terminal and enter its "
                           "resistance under 'electrodes'");
  if (!loops_over_supplier(state, zone, supply)) verdict.severity = Severity::breach;
  return verdict;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return verdicts;
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (facts->earthing && !earthing_is_tn(*facts->earthing))
    return {not_relevant(site.about(supply))};
  const bool has_electrode = !network::electrodes_on_main_terminal(site.network, site.site).empty();
  for (const StateView& state : site.states) {
    if (state.supply_runs) continue;
    for (const Zone& zone : state.zones)
      verdicts.push_back(judge_zone(site, state, zone, has_electrode));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule supplier_earth_not_relied_on{
    .id = "earthing/supplier-earth-not-relied-on",
    .severity = Severity::danger,
    .must_hold =
        "A TN site that can run apart from the supply has an electrode of its own on its "
        "main earthing terminal.",
    .why =
        "The supplier may have opened or lost the very conductor that provides the earth; that "
        "is often why the grid is down.",
    .clauses = {"IEC 60364-5-55 551.4.3.2.1", "BS 7671 551.4.3.2.1, 826.1.1.2.1, 542.1.2"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example =
        R"(# In island an earth fault comes home over the street's earth and the inverter's own rod.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE2: {resistance: 20 ohm, at: -T1}}}
inverters:
  -T1: {kind: battery, grid: forming, bond: closes in island, bond rest: open}
devices:
  -Q1: changeover I-0-II 40 A 2P by hand
boards:
  +A1:
    feed: [-Q1]
    circuits:
      - {id: -F11, device: B16 2P 30 mA type A two-way, cable: 3×2.5 mm² 10 m, use: fixed}
chains:
  - [supply, -W1 3×16 mm² 4 m, -Q1:I]
  - [-T1:ac, -W2 2×6 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I, running: [supply]}
  island: {-Q1: II, running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
