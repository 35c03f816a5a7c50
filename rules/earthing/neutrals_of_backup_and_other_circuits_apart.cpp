// Line and neutral of a circuit hang on the same side of whatever changes over.
//
// Speaks where the neutral is switched and a circuit has its line on one side and its neutral on
// another; such circuits are then left out by rcd/no-borrowed-neutral (neutrals mixed on one side)
// and one-neutral-bond-per-state (neutrals that reach no source). Two sides whose neutrals are
// joined past the transfer are left to neutral-poles-of-the-transfer and
// transfer/all-live-conductors-isolated-from-grid.
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/sides.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const bool joined = check::neutral_stays_joined(site);
  if (!joined)
    for (const check::AcrossSides& it : check::circuits_across_sides(site)) {
      Verdict verdict = broken(
          site.about(it.loads.front()),
          fmt::format("{}: line from the side of {}, neutral from that of {}",
                      check::circuits_in_words(site, it.loads), check::quoted(site, it.line_side),
                      check::quoted(site, it.neutral_side)),
          "bring the neutral to the bar of the board that feeds the line");
      verdict.notes = check::circuit_notes(site, it.loads, "has its neutral on the other side");
      verdicts.push_back(std::move(verdict));
    }
  if (!verdicts.empty()) return verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(site.element(e)) == nullptr) continue;
    const bool neutral = site.network.neutral(e, 0) != network::no_node;
    verdicts.push_back(neutral && !joined ? holds(site.about(e)) : not_relevant(site.about(e)));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule neutrals_of_backup_and_other_circuits_apart{
    .id = "earthing/neutrals-of-backup-and-other-circuits-apart",
    .severity = Severity::danger,
    .must_hold =
        "Where the neutral is switched, each circuit's line and neutral belong to the same side of "
        "the transfer.",
    .why =
        "Mixed neutrals trip RCDs at every transfer, keep a dead neutral alive, or leave a load "
        "with line but no neutral in island: on three phases that means overvoltage.",
    .clauses = {"IEC 60364-1 314.4", "IEC 60364-5-53 531.3", "BS 7671 314.4"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"neutral in island"},
    .example = R"(# The freezer is backed up, its neutral went to the other board.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 5 m]
    circuits:
      - {id: -F11, name: Cooker, device: B32 2P, cable: 3×6 mm² 8 m, use: cooking}
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Freezer, device: B16 1P, cable: 3×2.5 mm² 9 m, use: fixed, neutral from: -F11}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
