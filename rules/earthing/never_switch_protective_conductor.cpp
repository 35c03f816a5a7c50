// Nothing can open a protective conductor.
//
// Speaks of poles in a conductor marked PE, but for those between the main earthing terminal and
// the supplier's earth or an electrode: supplier-earth-stays-connected. A PEN led through a pole or
// an RCD is left to no-pen-through-rcd-or-switch. Allowed and not seen here: a tool-operated link,
// the earth pin of a connector, a charge point that opens live and earth together, and the contact
// of a neutral-earth link, which is no protective conductor.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/earth_ways.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto told = check::switches_in_earth_ways(site);
  for (const network::Edge& edge : site.network.edges) {
    const bool in_earth = edge.conductor == site::Conductor::pe &&
                          edge.kind == network::EdgeKind::pole && edge.element != site::none;
    if (!in_earth) continue;
    if (std::ranges::count(told, edge.element, &check::EarthSwitch::element) > 0) {
      verdicts.push_back(not_relevant(site.about(edge.element)));
      continue;
    }
    const std::string& name = site.name(edge.element);
    if (check::is_tool_operated(site, edge.element)) {
      verdicts.push_back(holds(site.about(edge.element)));
      continue;
    }
    verdicts.push_back(broken(site.about(edge.element),
                              fmt::format("'{}' can open a protective conductor", name),
                              fmt::format("take '{}' out and join the protective conductor "
                                          "through; for tests fit a link that needs a tool",
                                          name)));
  }
  return verdicts.empty() ? check::holds_at_main_terminal(site) : verdicts;
}

}  // namespace

extern const check::Rule never_switch_protective_conductor{
    .id = "earthing/never-switch-protective-conductor",
    .severity = Severity::danger,
    .must_hold = "No switch, fuse, relay contact or coil sits in a protective conductor.",
    .why =
        "An open earth leaves every metal case of the installation floating, with no sign that "
        "it happened.",
    .clauses = {"IEC 60364-5-54 543.3.3", "IEC 60364-5-53 537", "BS 7671 543.3.3, 543.3.3.101"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# A contactor parts the sub-board's protective conductor.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
devices:
  -K1: contactor 63 A normally closed
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [A1, -W3 2×10 mm² 9 m]}
chains:
  - [A1, -W2 1×10 mm² (PE) 9 m, -K1, A2]
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
