// No local joint of neutral and earth while the supply's neutral is joined.
//
// Speaks of every local joint that is closed while the supply's neutral is joined, on every supply
// but TT, unless the cause is another rule's: a transfer that does not switch the neutral
// (neutral-poles-of-the-transfer, generator-with-common-neutral) or a fixed joint behind the split
// of a PEN (pen-split-once). On TT: no-local-bond-on-tt-while-on-grid.
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
    if (it.cause != check::SecondBondCause::local) {
      verdicts.push_back(not_relevant(where));
    } else if (it.sure) {
      Verdict verdict =
          broken(where, fmt::format("'{}' joins neutral to earth a second time", name),
                 fmt::format("open '{}' whenever the supply's neutral is connected", name));
      verdict.notes.push_back(
          {site.element(supply).where, "the supply's neutral is earthed already"});
      verdict.edits = check::joint_off_the_grid(site, it.bond.element);
      verdicts.push_back(std::move(verdict));
    } else {
      verdicts.push_back(
          open(where, fmt::format("whether '{}' joins neutral to earth a second time", name),
               fmt::format("'bond', 'neutral' or position of '{}' in this state", name)));
    }
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return verdicts;
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (facts->earthing == site::Earthing::tt) return {not_relevant(site.about(supply))};
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      if (zone.supply_neutral) judge_zone(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule no_second_bond_while_on_grid{
    .id = "earthing/no-second-bond-while-on-grid",
    .severity = Severity::danger,
    .must_hold = "While the supply's neutral is connected, every local neutral-earth link is open.",
    .why =
        "A second link makes the house earth part of the network's neutral: neighbours' current "
        "returns through the house electrode and bonding, and RCDs trip or go blind.",
    .clauses = {"IEC 60364-5-54 543.4", "IEC 60364-5-55 551.4.3.2", "BS 7671 411.4.2, 826",
                "AS/NZS 3000 7.3.8.1.1(c)"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# The inverter's own link never opens.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: always closed}
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
