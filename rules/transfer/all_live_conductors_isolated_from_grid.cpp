// Speaks of the supply's neutral that stays joined while a local source runs and the supply does
// not, where the profile wants it opened. Lines are left to no-backfeed-to-dead-grid. A neutral
// with two bonds on it is left to the bond counts of earthing/, which is the same mistake seen from
// its worse side. Where the profile wants the neutral joined, earthing/ asks for that.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

/// The device or inverter that parts its lines in this state but lets this neutral through.
std::size_t leaves_neutral_joined(const AnalysedSite& site, const StateView& state,
                                  std::size_t source) {
  const auto neutral = network::source_neutral(site.network, source);
  for (const network::Edge& passage : site.network.edges)
    if (passage.element != site::none && state.joined(passage.a, neutral) &&
        network::bypasses_open_lines(site.network, state.positions, passage))
      return passage.element;
  return source;
}

Verdict neutral_joined(const AnalysedSite& site, const StateView& state, std::size_t source) {
  const std::size_t at = leaves_neutral_joined(site, state, source);
  Verdict verdict = broken(
      site.about(at, &state),
      fmt::format("'{}' runs with the supply's neutral joined, must be opened", site.name(source)),
      at == source ? "open the neutral together with the lines towards the supply"
                   : fmt::format("let '{}' open the neutral together with the lines (2P, 4P)",
                                 site.name(at)));
  if (at != source)
    verdict.notes.push_back(
        {site.element(source).where, fmt::format("'{}' runs here", site.name(source))});
  if (site::facts<site::Inverter>(site.element(at)) != nullptr && at != source)
    verdict.edits = {KeyValue{site.name(at), "neutral in island", "opened"}};
  if (site::facts<site::Device>(site.element(at)) != nullptr)
    verdict.edits = {check::poles_with_neutral(site, at)};
  // The supply's joint of neutral and earth has served so far.
  if (!verdict.edits.empty())
    for (const Edit& edit : check::own_joint(site, source))
      verdict.edits.push_back(edit);
  return verdict;
}

std::string missing(const AnalysedSite& site, const StateView& state) {
  for (const std::size_t element : check::undecided_elements(site, state)) {
    if (site::facts<site::Inverter>(site.element(element)) != nullptr)
      return fmt::format("'neutral in island' of '{}': opened or joined", site.name(element));
    const auto* device = site::facts<site::Device>(site.element(element));
    if (device != nullptr && !device->poles)
      return fmt::format("poles of '{}' (1P+N, 2P, 3P+N, 4P …)", site.name(element));
  }
  return fmt::format("the position of {} in this state",
                     check::quoted(site, check::undecided_elements(site, state)));
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Zone& zone) {
  const std::size_t source = zone.sources.front();
  const Subject subject = site.about(source, &state);
  if (zone.supply_lines || zone.bonds.size() > 1) return not_relevant(subject);
  if (check::neutral_stays_joined(site)) return holds(subject);
  if (zone.supply_neutral) return neutral_joined(site, state, source);
  if (zone.supply_neutral_undecided)
    return open(
        subject,
        fmt::format("whether '{}' runs cut off from the supply's neutral", site.name(source)),
        missing(site, state));
  return holds(subject);
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::size_t supply = check::supply_of(site);
  for (const StateView& state : site.states) {
    if (supply == site::none || state.supply_runs || state.zones.empty()) {
      verdicts.push_back(not_relevant(site.about(state)));
      continue;
    }
    for (const Zone& zone : state.zones)
      verdicts.push_back(judge(site, state, zone));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule all_live_conductors_isolated_from_grid{
    .id = "transfer/all-live-conductors-isolated-from-grid",
    .severity = Severity::danger,
    .must_hold =
        "While a local source runs without the supply, its lines, and its neutral where "
        "the country asks for it, are cut off from the supply.",
    .why =
        "A neutral left joined ties the house to a network that may be under repair, carries "
        "its unbalance, and upsets where neutral meets earth.",
    .clauses = {"IEC 60364-5-55 551.6", "IEC 60364-8-82", "VDE-AR-E 2510-2 6.410.2"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example =
        R"(# The changeover has three poles: the supply's neutral stays joined on the generator.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 15 kVA, neutral: floating, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 3P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 5×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -W2 5×6 mm² 9 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
