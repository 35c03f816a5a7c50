// A pole in the neutral opens no earlier than the lines and closes no later.
//
// Speaks of devices that open a neutral together with lines: whether that pole moves as a part of
// the device. One of its own is a danger on three phases and a breach on one. Where the file does
// not say, devices that change over on three phases are asked; others are taken as one mechanism.
// A device in the neutral alone is left to no-single-pole-neutral-switch.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/rule.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::Conductor;

Verdict judge(const AnalysedSite& site, std::size_t element, const site::Device& device,
              bool transfers) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  const site::Conductors carried = site.element(element).conductors;
  const bool three_phases = carried.has(Conductor::l2) && carried.has(Conductor::l3);
  if (!device.neutral_timing)
    return transfers && three_phases
               ? open(where,
                      fmt::format("whether the neutral pole of '{}' moves with its lines", name),
                      fmt::format("'neutral simultaneous' or 'neutral early' among the words of "
                                  "'{}'",
                                  name))
               : holds(where);
  if (*device.neutral_timing != site::NeutralTiming::separate) return holds(where);
  Verdict verdict = broken(
      where, fmt::format("'{}' opens N by a pole of its own, must be with the lines", name),
      "fit a device whose neutral pole is part of it, closing first and opening last, or together");
  if (!three_phases) verdict.severity = Severity::breach;
  return mended_by(std::move(verdict), {DeviceWords{name, "neutral simultaneous"}});
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<bool> transfers =
      network::transfer_elements(site.network, site.site, site.states);
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr || (site.element(e).conductors & site::lines).empty()) continue;
    if (network::broken_by(site.element(e)).opened.has(Conductor::n))
      verdicts.push_back(judge(site, e, *device, transfers[e]));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule neutral_not_open_before_lines{
    .id = "earthing/neutral-not-open-before-lines",
    .severity = Severity::danger,
    .must_hold = "A switched neutral opens not before its lines and closes not after them.",
    .why =
        "While the lines of three phases are closed and the neutral is open, unequal single-phase "
        "loads see anything up to 400 V.",
    .clauses = {"IEC 60364-4-43 431.3", "AS/NZS 3010"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The neutral of the changeover has a contactor of its own.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {neutral: linked, winding: line-neutral, fixed: yes}
panel:
  id: +A2
  interior: manual changeover
  grid: [A1, -W2 5×10 mm² 5 m]
  generator: [-G1, -W3 5×6 mm² 5 m]
  changeover: 63 A 4P by hand neutral separate
boards:
  +A1: {feed: [supply, -W1 5×16 mm² 3 m]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
