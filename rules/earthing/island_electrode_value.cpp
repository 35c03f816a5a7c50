// The electrode that an island stands on is good enough.
//
// Speaks in states in which the supply does not run. Where an earth-fault current there goes
// through the ground, its resistance times the residual current of each RCD is held against the
// touch voltage, and the resistance against the country's guide value. Where it goes home over
// metal, the guide value is advice. States on the grid, and the guide value of an electrode that a
// TT supply needs anyway, are left to rcd/tt-resistance-product; a missing electrode to
// supplier-earth-not-relied-on.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

/// The electrodes of the main earthing terminal side by side.
struct Electrodes {
  std::vector<std::size_t> elements;
  std::optional<Resistance> known;  ///< of those that have a value; more can only lower it
  std::size_t unknown = site::none;
};

Electrodes electrodes_of(const AnalysedSite& site) {
  Electrodes found{.elements = network::electrodes_on_main_terminal(site.network, site.site),
                   .known = {}};
  Conductance sum;
  for (const std::size_t e : found.elements) {
    const auto value = site::facts<site::Electrode>(site.element(e))->resistance;
    if (!value || !(value->si > 0.0))
      found.unknown = e;
    else
      sum += 1.0 / *value;
  }
  if (sum.si > 0.0) found.known = 1.0 / sum;
  return found;
}

/// Joins a value that may still fall by an electrode of unknown resistance to the limit.
Verdict against(const AnalysedSite& site, const StateView& state, const Electrodes& electrodes,
                Resistance limit, std::string_view limit_words) {
  const std::size_t first = electrodes.elements.front();
  const std::size_t unknown = electrodes.unknown != site::none ? electrodes.unknown : first;
  const Subject where = site.about(first, &state);
  if (electrodes.known && *electrodes.known <= limit) return holds(where);
  if (electrodes.unknown != site::none || !electrodes.known)
    return open(site.about(unknown, &state),
                fmt::format("whether the electrode is at most {}", limit),
                fmt::format("'resistance' of '{}'", site.name(unknown)));
  return broken(
      where,
      fmt::format("electrode of {}, must be at most {} ({})", *electrodes.known, limit,
                  limit_words),
      fmt::format("drive a deeper or a second electrode until it measures {} or less", limit));
}

/// The largest residual current of the RCDs that a fault through the ground relies on; none if
/// there is no such fault, or none of them has a value.
struct Reliance {
  bool through_ground = false;
  std::optional<Current> largest;
  std::size_t rcd = site::none;
  std::size_t rcd_without_value = site::none;
};

/// Of each loop the most sensitive RCD is the one relied on.
Reliance reliance(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  Reliance found;
  for (const network::Loop& loop : state.loops) {
    if (std::ranges::count(zone.sources, loop.source) == 0 ||
        loop.return_path != network::ReturnPath::through_earth)
      continue;
    found.through_ground = true;
    std::optional<Current> least;
    std::size_t relied_on = site::none;
    for (const network::RcdOnLoop& rcd : loop.rcds) {
      const auto* device = site::facts<site::Device>(site.element(rcd.element));
      if (!rcd.sees || !device->residual) continue;
      const auto value = device->residual->operating_current;
      if (!value)
        found.rcd_without_value = rcd.element;
      else if (!least || *value < *least) {
        least = value;
        relied_on = rcd.element;
      }
    }
    if (!least || (found.largest && *least <= *found.largest)) continue;
    found.largest = least;
    found.rcd = relied_on;
  }
  return found;
}

bool on_tt_supply(const AnalysedSite& site) {
  const std::size_t supply = check::supply_of(site);
  return supply != site::none &&
         site::facts<site::Supply>(site.element(supply))->earthing == site::Earthing::tt;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                const Electrodes& electrodes, std::vector<Verdict>& verdicts) {
  const Reliance relied = reliance(site, state, zone);
  if (relied.through_ground && relied.largest) {
    const auto touch = site.profile.voltage("touch voltage limit");
    if (touch)
      verdicts.push_back(against(
          site, state, electrodes, *touch / *relied.largest,
          fmt::format("{} over {} of '{}'", *touch, *relied.largest, site.name(relied.rcd))));
  } else if (relied.through_ground && relied.rcd_without_value != site::none) {
    verdicts.push_back(open(
        site.about(relied.rcd_without_value, &state),
        "whether the electrode is good enough for this RCD",
        fmt::format("residual operating current of '{}'", site.name(relied.rcd_without_value))));
  }
  const auto guide = site.profile.resistance("electrode guide value");
  // In a TT house rcd/tt-resistance-product holds the same electrode against the guide already.
  if (!guide || (on_tt_supply(site) && !relied.through_ground)) {
    if (!relied.through_ground)
      verdicts.push_back(not_relevant(site.about(electrodes.elements.front(), &state)));
    return;
  }
  Verdict verdict = against(site, state, electrodes, *guide, "guide value");
  if (!relied.through_ground) verdict.severity = Severity::advice;
  verdicts.push_back(std::move(verdict));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const Electrodes electrodes = electrodes_of(site);
  if (electrodes.elements.empty()) return verdicts;
  for (const StateView& state : site.states) {
    if (state.supply_runs) continue;
    for (const Zone& zone : state.zones)
      judge_zone(site, state, zone, electrodes, verdicts);
  }
  return verdicts;
}

}  // namespace

extern const check::Rule island_electrode_value{
    .id = "earthing/island-electrode-value",
    .severity = Severity::breach,
    .must_hold =
        "In island, electrode resistance times residual current is at most the touch "
        "voltage, and within the country's guide value.",
    .why =
        "A dry, shallow rod drifts to several hundred ohms; touch voltage then passes 50 V "
        "before the RCD trips.",
    .clauses = {"IEC 60364-4-41 411.5.3", "BS 7671 411.5.3 and Table 41.5 note (200 Ω)",
                "NF C 15-100 411.5.3"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"touch voltage limit", "electrode guide value"},
    .example =
        R"(# The inverter's earth is a rod of its own; the fault comes home through the ground.
profile: FR
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 120 ohm, -XE2: {resistance: 20 ohm, at: -T1}}}
inverters:
  -T1: {kind: battery, grid: forming, bond: closes in island, bond rest: open, synchronises at: [-Q1]}
devices:
  -Q1: changeover I-0-II 40 A 2P by hand
boards:
  +A1:
    feed: [-Q1, -F1 RCD 40 A 2P 100 mA type A S two-way]
    circuits:
      - {id: -F11, device: B16 2P 30 mA type A two-way, cable: 3×2.5 mm² 10 m, use: fixed}
chains:
  - [supply, -W1 2×16 mm² 4 m, -Q1:I]
  - [-T1:ac, -W2 2×6 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  island: {-Q1: II, running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
