// A source without a joint of neutral and earth that serves by separation feeds one item, and no
// building.
//
// Speaks of zones without any joint in which at least one circuit is declared `use: separated`: of
// the number and kind of items, and of fixed circuits beside them. A floating set that feeds
// nothing so declared simply lacks its joint: generator-with-switched-neutral,
// bond-present-when-islanded, neutral-continuity-where-the-country-asks. One that is unearthed on
// purpose: it-island-needs-monitor.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/unearthed.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

std::vector<std::size_t> fixed_circuits(const AnalysedSite& site, const StateView& state,
                                        const Zone& zone) {
  std::vector<std::size_t> fixed = check::loads_of(state, zone);
  std::erase_if(fixed, [&](std::size_t load) {
    return std::get<site::LoadGroup>(site.element(load).facts).use == site::Use::separated;
  });
  return fixed;
}

Verdict judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  const Subject where = site.about(source, &state);
  if (!check::meant_for_items(site, state, zone) || check::runs_as_it(site, zone))
    return not_relevant(where);
  const std::string name = check::quoted(site, source);
  const std::vector<std::size_t> fixed = fixed_circuits(site, state, zone);
  if (!fixed.empty()) {
    Verdict verdict =
        broken(where, fmt::format("{} floats and feeds fixed circuits beside a single item", name),
               fmt::format("join neutral to earth once on the side of {}, or feed the one item "
                           "alone",
                           name));
    verdict.notes = check::circuit_notes(site, fixed, "is not protected by separation");
    return verdict;
  }
  switch (check::separated(site, state, zone)) {
    case check::Separated::yes:
      return holds(where);
    case check::Separated::undecided:
      return open(where, fmt::format("whether separation protects what {} feeds", name),
                  "'items' and 'class two' of what it feeds");
    case check::Separated::no:
    case check::Separated::too_many:
      break;
  }
  Verdict verdict =
      broken(where, "separation serves one item of class II, more is fed here",
             fmt::format("feed one double insulated item, or join neutral to earth at {}", name));
  verdict.severity = Severity::breach;
  return verdict;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      verdicts.push_back(judge_zone(site, state, zone));
  return verdicts;
}

}  // namespace

extern const check::Rule floating_set_feeds_no_fixed_wiring{
    .id = "earthing/floating-set-feeds-no-fixed-wiring",
    .severity = Severity::danger,
    .must_hold = "A source that serves by separation feeds one item, and no circuit of a building.",
    .why =
        "With several earthed appliances a second fault on another conductor puts the full "
        "voltage between two cases, and nothing trips.",
    .clauses = {"IEC 60364-4-41 413, 418.3", "IEC 60364-5-55 551.4.4", "BS 7671 413, 418.3"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The set for one tool feeds the heater of the hut as well.
generators:
  -G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, fixed: yes, own rcd: no}
boards:
  +A1:
    feed: [-G1]
    circuits:
      - {id: -F1, name: Tool, device: B10 2P, cable: 2×1.5 mm² 5 m, use: separated, items: 1, class two: yes}
      - {id: -F2, name: Hut heater, device: B16 2P, cable: 3×2.5 mm² 9 m, use: fixed}
states:
  generator: {running: [-G1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
