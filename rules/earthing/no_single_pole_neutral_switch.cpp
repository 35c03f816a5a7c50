// A neutral is opened only together with all its lines.
//
// Speaks of every device with a pole in a neutral: it must open every line that it carries, by one
// mechanism. Fuses in a neutral are no such mechanism, whatever their number. A tool-operated link
// is allowed. Where the poles are not given, the device may be a fault or not.
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "network/network.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::Conductor;
using site::Conductors;

Verdict judge(const AnalysedSite& site, std::size_t element, const site::Device& device) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  const Conductors carried = site.element(element).conductors;
  const network::Broken broken_ones = network::broken_by(site.element(element));
  if (broken_ones.undecided.has(Conductor::n))
    return open(where, fmt::format("which conductors '{}' opens", name),
                fmt::format("poles of '{}' (1P, 1P+N, 2P, 3P, 3P+N, 4P)", name));
  if (!broken_ones.opened.has(Conductor::n) || device.kind == site::DeviceKind::link)
    return holds(where);
  const Conductors lines = carried & site::lines;
  if (lines.empty())
    return broken(
        where, fmt::format("'{}' opens the neutral alone", name),
        fmt::format("take '{}' out of the neutral, or switch N and lines by one device", name));
  const Conductors left = lines - broken_ones.opened;
  if (!left.empty())
    return mended_by(
        broken(where, fmt::format("'{}' opens the neutral but not {}", name, site::words(left)),
               fmt::format("fit '{}' with a pole for every line that it carries", name)),
        {check::poles_with_neutral(site, element)});
  if (device.kind == site::DeviceKind::fuse)
    return broken(where, fmt::format("a fuse of '{}' can open the neutral alone", name),
                  "put a solid link in place of the fuse in the neutral");
  return holds(where);
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device != nullptr && site.element(e).conductors.has(Conductor::n))
      verdicts.push_back(judge(site, e, *device));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule no_single_pole_neutral_switch{
    .id = "earthing/no-single-pole-neutral-switch",
    .severity = Severity::danger,
    .must_hold = "A neutral is opened only together with all its lines, by one device.",
    .why =
        "Opening the neutral alone leaves the load at line voltage while it looks dead; on three "
        "phases it lets single-phase loads see up to 400 V.",
    .clauses = {"IEC 60364-4-46 463.1", "DIN VDE 0100-460 463.1.2", "IEC 60364-5-53 530"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The neutral has a contactor of its own.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
devices:
  -K1: contactor 63 A 3P normally closed
  -K2: contactor 63 A normally closed
boards:
  +A1: {feed: [supply, -W1 4×16 mm² (L1 L2 L3 PE) 5 m, -K1]}
chains:
  - [supply, -W2 1×16 mm² (N) 5 m, -K2, A1]
states:
  grid: {}
)",
    .check = check_site,
};

}  // namespace linewright::rules
