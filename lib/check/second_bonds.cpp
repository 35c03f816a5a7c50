#include "check/second_bonds.hpp"

#include <algorithm>

#include "check/unpowered.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::check {
namespace {

using network::BondPoint;
using network::Edge;
using network::StateView;

std::uint32_t neutral_of(const AnalysedSite& site, const BondPoint& bond) {
  const Edge* edge = network::bond_edge(site.network, bond.element);
  return edge == nullptr ? network::no_node : edge->a;
}

/// The first element on the way from the supply to the joint that leads the neutral on although
/// its lines are open.
std::size_t unswitched(const AnalysedSite& site, const StateView& state, const BondPoint& bond) {
  const std::uint32_t from = network::source_neutral(site.network, supply_of(site));
  for (const std::uint32_t e :
       network::way(site.network, state.positions, from, neutral_of(site, bond)))
    if (network::bypasses_open_lines(site.network, state.positions, site.network.edges[e]))
      return site.network.edges[e].element;
  return site::none;
}

void classify(const AnalysedSite& site, const StateView& state, SecondBond& second) {
  const auto* supply = site::facts<site::Supply>(site.element(supply_of(site)));
  const std::size_t beside = source_beside(site, state, second.bond);
  const std::size_t transfer = unswitched(site, state, second.bond);
  if (beside != site::none && transfer != site::none) {
    const bool generator = site::facts<site::Generator>(site.element(beside)) != nullptr;
    if (!neutral_stays_joined(site)) {
      second.cause = SecondBondCause::unswitched_transfer;
      second.transfer = transfer;
      return;
    }
    if (generator) {
      second.cause = SecondBondCause::generator_link;
      return;
    }
  }
  if (closed_for_want_of_power(site, state, second.bond.element) ||
      undecided_for_want_of_power(site, state, second.bond.element)) {
    second.cause = SecondBondCause::without_power;
    return;
  }
  const auto* link = site::facts<site::Bond>(site.element(second.bond.element));
  if (supply->earthing == site::Earthing::tt)
    second.cause = SecondBondCause::tt;
  else if (supply->earthing == site::Earthing::tn_c_s && link != nullptr && !link->contact)
    second.cause = SecondBondCause::rejoined;
  else
    second.cause = SecondBondCause::local;
}

}  // namespace

std::size_t supply_of(const AnalysedSite& site) {
  for (const network::SourcePoint& source : site.network.sources)
    if (source.utility) return source.element;
  return site::none;
}

bool neutral_stays_joined(const AnalysedSite& site) {
  if (site.profile.text("neutral in island") != "joined") return false;
  return network::source_neutral(site.network, supply_of(site)) != network::no_node;
}

std::size_t source_beside(const AnalysedSite& site, const StateView& state, const BondPoint& bond) {
  const auto transfers = network::transfer_elements(site.network, site.site, site.states);
  for (const network::SourcePoint& source : site.network.sources) {
    if (source.utility) continue;
    auto avoided = transfers;
    avoided[source.element] = true;
    const std::uint32_t own = site.network.neutral(source.element, source.terminal);
    if (network::joined_without(site.network, state.positions, own, neutral_of(site, bond),
                                avoided))
      return source.element;
  }
  return site::none;
}

std::vector<SecondBond> second_bonds(const AnalysedSite& site, const StateView& state,
                                     const network::Zone& zone) {
  std::vector<SecondBond> found;
  if (!zone.supply_neutral) return found;
  for (const BondPoint& bond : zone.bonds) {
    if (bond.suppliers) continue;
    found.push_back({.bond = bond});
  }
  const std::uint32_t supply = network::source_neutral(site.network, supply_of(site));
  for (const BondPoint& bond : zone.undecided_bonds) {
    if (bond.suppliers || !state.joined(supply, neutral_of(site, bond))) continue;
    found.push_back({.bond = bond, .sure = false});
  }
  for (SecondBond& second : found)
    classify(site, state, second);
  return found;
}

bool closed_on_grid(const AnalysedSite& site, std::size_t element) {
  return std::ranges::any_of(site.states, [&](const StateView& state) {
    return std::ranges::any_of(state.zones, [&](const network::Zone& zone) {
      return zone.supply_neutral && std::ranges::any_of(zone.bonds, [&](const BondPoint& bond) {
               return bond.element == element && !bond.suppliers;
             });
    });
  });
}

}  // namespace linewright::check
