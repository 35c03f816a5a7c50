// A PEN is divided once, and N and PE are not joined again behind the division.
//
// Speaks on TN-C-S supplies: of a missing or a second division, and of fixed links behind it while
// the supply's neutral is joined. Links with a contact and the contacts of inverters are left to
// no-second-bond-while-on-grid; a link on a generator's side of a transfer that leads the neutral
// on to neutral-poles-of-the-transfer and generator-with-common-neutral.
#include <algorithm>
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

std::vector<std::size_t> splits_of(const AnalysedSite& site) {
  std::vector<std::size_t> splits;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (site::facts<site::PenSplit>(site.element(e)) != nullptr) splits.push_back(e);
  return splits;
}

Verdict judge_splits(const AnalysedSite& site, std::size_t supply,
                     const std::vector<std::size_t>& splits) {
  if (splits.empty())
    return broken(site.about(supply), "the PEN is divided nowhere, must be once",
                  "divide it into N and PE at the cut-out or the main board ('pen split')");
  const bool several_allowed = site.profile.says_yes("pen split at outbuildings");
  if (splits.size() == 1 || several_allowed) return holds(site.about(splits.front()));
  Verdict verdict = broken(site.about(splits.back()),
                           fmt::format("the PEN is divided {} times, must be once", splits.size()),
                           fmt::format("divide it at '{}' alone and lead N and PE apart from there",
                                       site.name(splits.front())));
  for (std::size_t i = 0; i + 1 < splits.size(); ++i)
    verdict.notes.push_back({site.element(splits[i]).where, "it is divided here as well"});
  return verdict;
}

void judge_links(const AnalysedSite& site, const StateView& state, const network::Zone& zone,
                 std::vector<Verdict>& verdicts) {
  for (const SecondBond& it : check::second_bonds(site, state, zone)) {
    if (it.cause != check::SecondBondCause::rejoined) continue;
    const std::string& name = site.name(it.bond.element);
    verdicts.push_back(mended_by(
        broken(site.about(it.bond.element, &state),
               fmt::format("'{}' joins N and PE again behind the division of the PEN", name),
               fmt::format("take out '{}', or give it a contact that is open on the grid", name)),
        check::joint_off_the_grid(site, it.bond.element)));
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none) return verdicts;
  const auto splits = splits_of(site);
  const auto* facts = site::facts<site::Supply>(site.element(supply));
  if (!facts->earthing && !splits.empty())
    return {open(site.about(supply), "whether the supply brings a PEN", "'earthing' of 'supply'")};
  if (facts->earthing != site::Earthing::tn_c_s) return {not_relevant(site.about(supply))};
  verdicts.push_back(judge_splits(site, supply, splits));
  for (const StateView& state : site.states)
    for (const network::Zone& zone : state.zones)
      judge_links(site, state, zone, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule pen_split_once{
    .id = "earthing/pen-split-once",
    .severity = Severity::danger,
    .must_hold =
        "A PEN is divided into N and PE once, and the two are not joined again behind it "
        "while the supply's neutral is joined.",
    .why = "Rejoining puts neutral current on earthed metalwork and defeats RCDs.",
    .clauses = {"IEC 60364-5-54 543.4.3", "BS 7671 543.4"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"neutral in island", "pen split at outbuildings"},
    .example = R"(# A link left in the board behind the cut-out.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: supply}
earthing:
  links:
    -X5: {at: A1}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
