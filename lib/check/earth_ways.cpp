#include "check/earth_ways.hpp"

#include <algorithm>
#include <deque>

#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::check {
namespace {

using network::Edge;
using network::EdgeKind;
using network::no_node;

/// Whether an edge leads a protective conductor or a PEN on, whatever stands in it.
bool leads_earth(const AnalysedSite& site, const Edge& edge) {
  if (edge.kind == EdgeKind::earth) return false;
  if (edge.kind == EdgeKind::bond)
    return edge.element != site::none &&
           site::facts<site::PenSplit>(site.element(edge.element)) != nullptr;
  return edge.conductor == site::Conductor::pe || edge.conductor == site::Conductor::pen;
}

/// The nodes reached from one of them without entering an element.
std::vector<bool> reached(const AnalysedSite& site, std::uint32_t from, std::size_t without) {
  std::vector<bool> seen(site.network.nodes.size(), false);
  std::deque<std::uint32_t> waiting{from};
  seen[from] = true;
  while (!waiting.empty()) {
    const std::uint32_t node = waiting.front();
    waiting.pop_front();
    for (const Edge& edge : site.network.edges) {
      if (edge.element == without || !leads_earth(site, edge)) continue;
      if (edge.a != node && edge.b != node) continue;
      const std::uint32_t other = edge.a == node ? edge.b : edge.a;
      if (seen[other]) continue;
      seen[other] = true;
      waiting.push_back(other);
    }
  }
  return seen;
}

std::uint32_t earth_node(const AnalysedSite& site, std::size_t element) {
  const std::uint32_t pe = site.network.node(element, 0, site::Conductor::pe);
  return pe != no_node ? pe : site.network.node(element, 0, site::Conductor::pen);
}

/// The earth that this pole can part from the main earthing terminal, or none.
std::size_t parted(const AnalysedSite& site, const Edge& pole,
                   const std::vector<std::size_t>& earths) {
  const std::uint32_t main = network::main_terminal_node(site.network, site.site);
  if (main == no_node) return site::none;
  const std::vector<bool> near = reached(site, main, pole.element);
  if (near[pole.a] == near[pole.b]) return site::none;
  const std::vector<bool> far = reached(site, near[pole.a] ? pole.b : pole.a, pole.element);
  for (const std::size_t earth : earths) {
    const std::uint32_t node = earth_node(site, earth);
    if (node != no_node && far[node]) return earth;
  }
  return site::none;
}

}  // namespace

std::vector<EarthSwitch> switches_in_earth_ways(const AnalysedSite& site) {
  std::vector<std::size_t> earths;
  if (const std::size_t supply = supply_of(site); supply != site::none) earths.push_back(supply);
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (site::facts<site::Electrode>(site.element(e)) != nullptr) earths.push_back(e);
  std::vector<EarthSwitch> all;
  for (const Edge& edge : site.network.edges) {
    if (edge.kind != EdgeKind::pole || edge.conductor != site::Conductor::pe) continue;
    const std::size_t earth = parted(site, edge, earths);
    if (earth != site::none) all.push_back({edge.element, earth});
  }
  return all;
}

bool is_tool_operated(const AnalysedSite& site, std::size_t element) {
  const auto* device = site::facts<site::Device>(site.element(element));
  return device != nullptr && device->kind == site::DeviceKind::link;
}

std::vector<Verdict> holds_at_main_terminal(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (site::facts<site::MainEarthingTerminal>(site.element(e)) != nullptr)
      verdicts.push_back(holds(site.about(e)));
  return verdicts;
}

}  // namespace linewright::check
