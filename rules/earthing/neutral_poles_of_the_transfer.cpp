// The poles of a transfer fit the neutral-earth links of its sources.
//
// Speaks of a transfer that leads the neutral on although its lines are open, while neutral and
// earth are joined more than once: a danger where the second joint is on the other source's side
// and switching the neutral would part them; a breach where the joint is elsewhere and is itself
// reported as the danger. Where the profile keeps the neutral joined the link is at fault, not the
// pole: generator-with-common-neutral. A neutral led on with a single joint is left to
// transfer/all-live-conductors-isolated-from-grid; a switched neutral whose source has no joint to
// bond-present-when-islanded and generator-with-switched-neutral.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SecondBond;
using network::StateView;

std::string poles_of(const AnalysedSite& site, std::size_t transfer) {
  const auto* device = site::facts<site::Device>(site.element(transfer));
  return device != nullptr && device->poles ? device->poles->written : std::string();
}

std::string wanted_poles(const AnalysedSite& site, std::size_t transfer) {
  return (site.element(transfer).conductors & site::lines).count() == 1 ? "2P" : "4P";
}

bool supply_is_it(const AnalysedSite& site) {
  const auto* supply = site::facts<site::Supply>(site.element(check::supply_of(site)));
  return supply != nullptr && supply->earthing == site::Earthing::it;
}

Verdict two_links(const AnalysedSite& site, const StateView& state, const SecondBond& second) {
  const std::size_t transfer = second.transfer;
  const std::string& name = site.name(transfer);
  const std::string poles = poles_of(site, transfer);
  const bool inverter = poles.empty();
  const bool isolated = supply_is_it(site);
  const std::string_view joins =
      isolated ? "earths the neutral of an IT supply" : "keeps two bonded neutrals joined";
  Verdict verdict = broken(
      site.about(transfer, &state),
      inverter ? fmt::format("'{}' {}", name, joins)
               : fmt::format("'{}' {} {}", name, poles, joins),
      inverter
          ? fmt::format("let '{}' open the neutral towards the grid, or switch its link off", name)
          : fmt::format("fit '{}' as {}; or take the link at '{}' out and keep one neutral", name,
                        wanted_poles(site, transfer), site.name(second.bond.element)));
  verdict.notes.push_back({second.bond.where, fmt::format("'{}' joins neutral to earth",
                                                          site.name(second.bond.element))});
  verdict.notes.push_back({site.element(check::supply_of(site)).where,
                           isolated ? "the supply is IT: its neutral stays apart from earth"
                                    : "the supply's neutral is earthed as well"});
  if (inverter)
    verdict.edits = {KeyValue{name, "neutral in island", "opened"}};
  else
    verdict.edits = {check::poles_with_neutral(site, transfer)};
  return verdict;
}

/// The file does not say whether the other source's neutral is earthed in this state.
Verdict perhaps_two_links(const AnalysedSite& site, const StateView& state,
                          const SecondBond& second) {
  const std::string& name = site.name(second.bond.element);
  return open(
      site.about(second.transfer, &state),
      fmt::format("whether '{}' keeps two bonded neutrals joined", site.name(second.transfer)),
      fmt::format("'bond', 'bond rest' or 'neutral' of '{}', or its position in this state", name));
}

/// Transfers between the supply's neutral and another source's that lead it on with open lines.
std::vector<std::size_t> leading_on(const AnalysedSite& site, const StateView& state) {
  std::vector<std::size_t> found;
  const std::uint32_t supply = network::source_neutral(site.network, check::supply_of(site));
  for (const network::SourcePoint& source : site.network.sources) {
    if (source.utility) continue;
    const std::uint32_t other = site.network.neutral(source.element, source.terminal);
    for (const std::uint32_t e : network::way(site.network, state.positions, supply, other)) {
      const network::Edge& edge = site.network.edges[e];
      if (network::bypasses_open_lines(site.network, state.positions, edge) &&
          std::ranges::count(found, edge.element) == 0)
        found.push_back(edge.element);
    }
  }
  return found;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const network::Zone& zone,
                std::vector<Verdict>& verdicts) {
  bool joint_elsewhere = false;
  for (const SecondBond& second : check::second_bonds(site, state, zone)) {
    if (second.cause == check::SecondBondCause::unswitched_transfer)
      verdicts.push_back(second.sure ? two_links(site, state, second)
                                     : perhaps_two_links(site, state, second));
    else if (second.sure)
      joint_elsewhere = true;
  }
  if (!joint_elsewhere || check::neutral_stays_joined(site)) return;
  for (const std::size_t transfer : leading_on(site, state)) {
    const std::string poles = poles_of(site, transfer);
    if (poles.empty()) continue;
    Verdict verdict = broken(
        site.about(transfer, &state),
        fmt::format("'{}' {} leaves the other source's neutral joined", site.name(transfer), poles),
        fmt::format("fit '{}' as {}", site.name(transfer), wanted_poles(site, transfer)));
    verdict.severity = Severity::breach;
    verdicts.push_back(std::move(verdict));
  }
}

/// Transfers that carry a neutral and are not named above: their poles are known or asked for.
void judge_rest(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  const auto transfers = network::transfer_elements(site.network, site.site, site.states);
  for (std::size_t e = 0; e < transfers.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (!transfers[e] || device == nullptr || !site.element(e).conductors.has(site::Conductor::n))
      continue;
    const bool told = std::ranges::any_of(
        verdicts, [&](const Verdict& verdict) { return verdict.element == site.name(e); });
    if (told) continue;
    if (network::broken_by(site.element(e)).undecided.has(site::Conductor::n))
      verdicts.push_back(open(site.about(e),
                              fmt::format("whether '{}' opens the neutral", site.name(e)),
                              fmt::format("poles of '{}' (2P, 3P, 4P)", site.name(e))));
    else
      verdicts.push_back(holds(site.about(e)));
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const bool other_source =
      std::ranges::any_of(site.network.sources, [](const auto& source) { return !source.utility; });
  if (check::supply_of(site) == site::none || !other_source) return verdicts;
  for (const StateView& state : site.states)
    for (const network::Zone& zone : state.zones)
      judge_zone(site, state, zone, verdicts);
  judge_rest(site, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule neutral_poles_of_the_transfer{
    .id = "earthing/neutral-poles-of-the-transfer",
    .severity = Severity::danger,
    .must_hold =
        "A transfer between sources with a neutral-earth link each switches the neutral; "
        "sources that share one link keep it solid.",
    .why =
        "A solid neutral with two links is a parallel neutral path through protective "
        "conductors; a switched neutral with one link is a floating source.",
    .clauses = {"IEC 60364-5-55 551.4, 551.6", "BS 7671 551.6",
                "AS/NZS 3010 and AS/NZS 3000 7.3.8"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# A three-pole changeover between two sources with a link each.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 3P by hand
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
