// A charge point on its own electrode is out of reach of metalwork on another earth.
//
// Speaks of charge points with an electrode of their own whose protective conductor does not lead
// to the main earthing terminal as well. Whether such an electrode is needed, or is no use since
// the PE core is still joined, is left to broken-pen.
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

Verdict judge_reach(const AnalysedSite& site, std::size_t load) {
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  const auto limit = site.profile.length("ev reach");
  const auto reach = check::charging(site, load).reach;
  if (!reach || !limit)
    return open(where, fmt::format("how far '{}' is from metalwork on another earth", name),
                fmt::format("'reach' under 'charging' of '{}'", name));
  if (reach->si >= limit->si * (1.0 - 1e-9)) return holds(where);
  return broken(
      where, fmt::format("'{}' is {} from another earth, must be {} or more", name, *reach, *limit),
      "move the charge point or screen the metalwork, cable and open car door counted in");
}

Verdict judge_electrode(const AnalysedSite& site, std::size_t load) {
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  const auto clear = check::charging(site, load).electrode_clear;
  if (!clear)
    return open(where, fmt::format("whether buried metal is near the electrode of '{}'", name),
                fmt::format("'electrode clear' under 'charging' of '{}'", name));
  if (*clear) return holds(where);
  return broken(where,
                fmt::format("the electrode of '{}' stands near metal on another earth", name),
                "drive it clear of pipes, foundations and other electrodes that are bonded");
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const std::size_t load : check::charge_points(site)) {
    const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
    if (facts.own_electrode != true || check::on_common_earth(site, load)) {
      verdicts.push_back(not_relevant(site.about(load)));
      continue;
    }
    verdicts.push_back(judge_reach(site, load));
    verdicts.push_back(judge_electrode(site, load));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule no_simultaneous_reach_of_two_earths{
    .id = "ev/no-simultaneous-reach-of-two-earths",
    .severity = Severity::danger,
    .must_hold =
        "A charge point on its own electrode is out of reach of metalwork on another earth, and "
        "its electrode is clear of buried bonded metal.",
    .why = "Two earths in one pair of hands differ by the voltage of a fault on either.",
    .clauses = {"BS 7671 722 (distance: code of practice)"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {"ev reach"},
    .example = R"(# The charge point on its own rod hangs beside the house's outdoor tap.
profile: GB
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S}
boards:
  +A1:
    feed: [supply, -W1 2×25 mm² + 16 mm² PE 3 m double insulated, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 2×6 mm² 20 m, use: EV, outdoors: yes, own electrode: 60 ohm,
         charging: {points: 1, reach: 0.8 m, electrode clear: yes}}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
