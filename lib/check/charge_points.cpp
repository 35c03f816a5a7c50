#include "check/charge_points.hpp"

#include <algorithm>

#include "check/second_bonds.hpp"
#include "network/joining.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::check {
namespace {

/// Whether protective conductors join a circuit to a node, whatever stands in them.
bool one_earth(const AnalysedSite& site, std::size_t load, std::uint32_t node) {
  const std::uint32_t own = site.network.node(load, 0, site::Conductor::pe);
  if (own == network::no_node || node == network::no_node) return false;
  const auto stretch = network::protective_stretches(site.network, site.site);
  return stretch[own] == stretch[node];
}

}  // namespace

std::vector<std::size_t> charge_points(const AnalysedSite& site) {
  std::vector<std::size_t> all;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load != nullptr && load->use == site::Use::ev) all.push_back(e);
  }
  return all;
}

const site::ChargePoint& charging(const AnalysedSite& site, std::size_t load) {
  static const site::ChargePoint nothing;
  const auto* facts = site::facts<site::LoadGroup>(site.element(load));
  return facts != nullptr && facts->charging ? *facts->charging : nothing;
}

bool on_common_earth(const AnalysedSite& site, std::size_t load) {
  return one_earth(site, load, network::main_terminal_node(site.network, site.site));
}

bool on_supply_earth(const AnalysedSite& site, std::size_t load) {
  const std::size_t supply = supply_of(site);
  if (supply == site::none) return false;
  const std::uint32_t pe = site.network.node(supply, 0, site::Conductor::pe);
  return one_earth(
      site, load, pe != network::no_node ? pe : site.network.node(supply, 0, site::Conductor::pen));
}

bool all_ways_pass(const AnalysedSite& site, const network::StateView& state, std::size_t source,
                   std::size_t load, std::size_t element) {
  std::vector<bool> without(site.site.elements.size(), false);
  without[element] = true;
  const std::size_t index = network::source_of(site.network, source);
  if (index == site::none) return false;
  for (const std::uint32_t from : network::line_nodes(site.network, index))
    for (const std::uint32_t to : network::line_nodes(site.network, load, 0))
      if (network::joined_without(site.network, state.positions, from, to, without)) return false;
  return true;
}

std::size_t meter_of(const AnalysedSite& site, std::size_t load) {
  const std::size_t element = site.site.find(charging(site, load).meter);
  if (element == site::none || site::facts<site::Meter>(site.element(element)) == nullptr)
    return site::none;
  return element;
}

}  // namespace linewright::check
