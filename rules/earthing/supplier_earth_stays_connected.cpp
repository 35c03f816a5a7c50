// Nothing can part the main earthing terminal from the supplier's earth or from an electrode.
//
// Speaks of poles in a protective conductor that leads from the main earthing terminal to the
// supply or to an electrode, in island most of all. Poles in other protective conductors are left
// to never-switch-protective-conductor, poles in a PEN to no-pen-through-rcd-or-switch. A
// supplier's earth that is not used at all (`supplier earth: disconnected`) switches nothing. A
// link that needs a tool may stand there for tests.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/earth_ways.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

std::string earth_in_words(const AnalysedSite& site, std::size_t earth) {
  if (site::facts<site::Supply>(site.element(earth)) != nullptr) return "the supplier's earth";
  return fmt::format("electrode {}", check::quoted(site, earth));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const check::EarthSwitch& it : check::switches_in_earth_ways(site)) {
    if (check::is_tool_operated(site, it.element)) {
      verdicts.push_back(holds(site.about(it.element)));
      continue;
    }
    const std::string& name = site.name(it.element);
    verdicts.push_back(
        broken(site.about(it.element),
               fmt::format("'{}' can part the main earthing terminal from {}", name,
                           earth_in_words(site, it.earth)),
               fmt::format("take '{}' out and join the two earths for good; for tests fit a link "
                           "that needs a tool",
                           name)));
  }
  return verdicts.empty() ? check::holds_at_main_terminal(site) : verdicts;
}

}  // namespace

extern const check::Rule supplier_earth_stays_connected{
    .id = "earthing/supplier-earth-stays-connected",
    .severity = Severity::danger,
    .must_hold =
        "The supplier's earth and the site's electrodes stay joined to the main earthing terminal "
        "in every state.",
    .why =
        "Other services keep the two earths joined anyway; a contact between them is a single "
        "point of failure, and parts of the house could stand on different potentials.",
    .clauses = {"IEC 60364-5-54 543.3.3", "BS 7671 826.1.1.2.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# A contactor parts the supplier's earth in island.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
devices:
  -K1: contactor 63 A normally closed
boards:
  +A1: {feed: [supply, -W1 2×16 mm² 5 m]}
chains:
  - [supply, -W2 1×16 mm² (PE) 5 m, -K1, A1]
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
