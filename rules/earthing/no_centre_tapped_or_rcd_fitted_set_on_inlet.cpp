// A plugged set has a winding from line to neutral, and no RCD that would see the site's own bond.
//
// Speaks of generators that are plugged in: those said not to be fixed, and those behind an inlet.
// An RCD of the set's own matters where neutral and earth are joined behind it in a state in which
// the set runs; the set's own link is inside, ahead of that RCD.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

bool is_plugged(const AnalysedSite& site, std::size_t element, const site::Generator& set) {
  return set.fixed == false || !check::plug_of(site, element).connectors.empty();
}

Verdict judge_winding(const AnalysedSite& site, std::size_t element, const site::Generator& set) {
  const Subject where = site.about(element);
  const std::string& name = site.name(element);
  if (!set.winding)
    return open(where, fmt::format("whether the winding of '{}' is tapped in the middle", name),
                fmt::format("'winding' of '{}': line-neutral or centre-tapped", name));
  if (*set.winding == site::Winding::line_neutral) return holds(where);
  return mended_by(broken(where, fmt::format("'{}' is centre-tapped, must not feed an inlet", name),
                          "use a set with one winding from line to neutral"),
                   {KeyValue{name, "winding", "line-neutral"}});
}

/// A joint of neutral and earth behind the set, in a state in which it runs; null if none.
const network::BondPoint* joint_behind(const StateView& state, std::size_t element) {
  for (const network::Zone& zone : state.zones) {
    if (std::ranges::count(zone.sources, element) == 0) continue;
    const auto behind = std::ranges::find_if(
        zone.bonds, [&](const network::BondPoint& bond) { return bond.element != element; });
    if (behind != zone.bonds.end()) return &*behind;
  }
  return nullptr;
}

Verdict judge_rcd(const AnalysedSite& site, const StateView& state, std::size_t element,
                  const site::Generator& set) {
  const Subject where = site.about(element, &state);
  const std::string& name = site.name(element);
  const network::BondPoint* joint = joint_behind(state, element);
  if (joint == nullptr || set.own_rcd == false) return holds(where);
  if (!set.own_rcd)
    return open(where, fmt::format("whether an RCD of '{}' sees the bond behind it", name),
                fmt::format("'own rcd' of '{}': yes or no", name));
  Verdict verdict =
      broken(where, fmt::format("the RCD of '{}' itself sees the bond behind it", name),
             "use a set without RCD of its own; the site's RCDs take its place");
  verdict.notes.push_back(
      {joint->where, fmt::format("'{}' joins neutral and earth", site.name(joint->element))});
  return mended_by(std::move(verdict), {KeyValue{name, "own rcd", "no"}});
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* set = site::facts<site::Generator>(site.element(e));
    if (set == nullptr || !is_plugged(site, e, *set)) continue;
    verdicts.push_back(judge_winding(site, e, *set));
    for (const StateView& state : site.states)
      if (check::runs(state, e)) verdicts.push_back(judge_rcd(site, state, e, *set));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule no_centre_tapped_or_rcd_fitted_set_on_inlet{
    .id = "earthing/no-centre-tapped-or-rcd-fitted-set-on-inlet",
    .severity = Severity::danger,
    .must_hold =
        "A set that is plugged in has one winding from line to neutral, and no RCD of its own "
        "ahead of the site's bond.",
    .why =
        "The neutral of a centre-tapped set is live at half its voltage; one with its own RCD "
        "trips at once, and invites somebody to take its earth off.",
    .clauses = {"AS/NZS 3010:2017 4.2.6", "IEC 60364-5-55 551.4.4"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# A site set with two half windings on the inlet of a house.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {neutral: linked, winding: centre-tapped, fixed: no, own rcd: no}
panel:
  id: +A2
  interior: generator inlet
  grid: [A1, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  inlet: 32 A
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
