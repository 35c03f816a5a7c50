// On a TT supply no local joint of neutral and earth while the supply's neutral is joined.
//
// The same question as no-second-bond-while-on-grid, for TT supplies alone; there that rule is
// silent. A transfer that leads the neutral on between two sources with a link each is left to
// neutral-poles-of-the-transfer and generator-with-common-neutral.
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SecondBond;
using network::StateView;
using network::Zone;

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                std::vector<Verdict>& verdicts) {
  const std::size_t supply = check::supply_of(site);
  const auto second = check::second_bonds(site, state, zone);
  if (second.empty()) verdicts.push_back(holds(site.about(supply, &state)));
  for (const SecondBond& it : second) {
    const Subject where = site.about(it.bond.element, &state);
    const std::string& name = site.name(it.bond.element);
    if (it.cause != check::SecondBondCause::tt) {
      verdicts.push_back(not_relevant(where));
    } else if (it.sure) {
      Verdict verdict = broken(
          where, fmt::format("'{}' joins the TT supply's neutral to the house earth", name),
          fmt::format("make it impossible to close '{}' while the supply's neutral is connected",
                      name));
      verdict.notes.push_back(
          {site.element(supply).where, "the supply is TT: no earth is brought"});
      verdict.edits = check::joint_off_the_grid(site, it.bond.element);
      verdicts.push_back(std::move(verdict));
    } else {
      verdicts.push_back(
          open(where, fmt::format("whether '{}' joins the TT supply's neutral to earth", name),
               fmt::format("'bond', 'neutral' or position of '{}' in this state", name)));
    }
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return verdicts;
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (facts->earthing != site::Earthing::tt) return {not_relevant(site.about(supply))};
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      if (zone.supply_neutral) judge_zone(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule no_local_bond_on_tt_while_on_grid{
    .id = "earthing/no-local-bond-on-tt-while-on-grid",
    .severity = Severity::danger,
    .must_hold =
        "On a TT supply no local neutral-earth link is closed while the supply's neutral "
        "is joined.",
    .why =
        "The house electrode becomes the return for the street's faults, and the RCD at the "
        "origin trips at once or is defeated.",
    .clauses = {"IEC 60364-4-41 411.5", "the supplier's connection rules"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# A fixed link at the bar that the grid feeds as well.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing:
  electrodes: {-XE1: 40 ohm}
  links:
    -X5: {at: A1}
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
