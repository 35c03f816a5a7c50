// A PEN passes through no RCD and no pole.
//
// Speaks of every device that a PEN leads through. A pole in a protective conductor alone is left
// to never-switch-protective-conductor. A device with line poles only, through which the PEN passes
// unbroken, is sound.
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "network/network.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

Verdict judge(const AnalysedSite& site, std::size_t element, const site::Device& device) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  if (device.residual)
    return broken(
        where, fmt::format("the PEN passes through RCD '{}'", name),
        fmt::format("divide the PEN ahead of '{}' and lead only L and N through it", name));
  if (device.kind == site::DeviceKind::link) return holds(where);
  if (network::broken_by(site.element(element)).opened.has(site::Conductor::pen))
    return mended_by(
        broken(
            where, fmt::format("'{}' opens the PEN", name),
            fmt::format("choose '{}' with line poles only, or divide the PEN ahead of it", name)),
        {check::poles_without_neutral(site, element)});
  const bool poles_matter = device.kind != site::DeviceKind::fuse;
  if (!device.poles && poles_matter)
    return open(where, fmt::format("whether '{}' opens the PEN", name),
                fmt::format("poles of '{}' (1P, 3P, 4P)", name));
  return holds(where);
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device != nullptr && site.element(e).conductors.has(site::Conductor::pen))
      verdicts.push_back(judge(site, e, *device));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule no_pen_through_rcd_or_switch{
    .id = "earthing/no-pen-through-rcd-or-switch",
    .severity = Severity::danger,
    .must_hold =
        "A PEN passes through no RCD and no switch; it is divided on the source side of "
        "the first RCD.",
    .why =
        "A PEN inside an RCD hides earth-fault current; a switched PEN takes earth and neutral "
        "at once and puts line voltage on metalwork through the loads.",
    .clauses = {"IEC 60364-4-41 411.4.5", "IEC 60364-5-53 531.3", "IEC 60364-4-46 461"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The main switch opens the combined conductor.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-C-S, pen split: A1}
boards:
  +A1:
    feed: [supply, -W1 4×16 mm² 5 m, -Q10 switch-disconnector 63 A 4P]
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
