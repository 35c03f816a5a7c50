#include "network/neutral_paths.hpp"

#include <algorithm>
#include <deque>
#include <optional>

#include "network/joining.hpp"

namespace linewright::network {
namespace {

using site::Conductor;

bool conducts(const Edge& edge) {
  return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth;
}

bool is_marked(const std::vector<bool>& marks, const Edge& edge) {
  return edge.element != site::none && edge.element < marks.size() && marks[edge.element];
}

/// Edges at every node, over those that `allowed` lets through.
template <class Allowed>
std::vector<std::vector<std::uint32_t>> edges_at(const Network& network, Allowed allowed) {
  std::vector<std::vector<std::uint32_t>> at(network.nodes.size());
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    if (!allowed(network.edges[e])) continue;
    at[network.edges[e].a].push_back(e);
    at[network.edges[e].b].push_back(e);
  }
  return at;
}

std::uint32_t other_end(const Edge& edge, std::uint32_t node) {
  return edge.a == node ? edge.b : edge.a;
}

/// The edge by which a breadth-first walk from `from` first came to every node it reached.
template <class Allowed>
std::optional<std::vector<std::uint32_t>> walk(const Network& network, std::uint32_t from,
                                               std::uint32_t to, Allowed allowed) {
  constexpr std::uint32_t not_seen = no_node;
  if (from == no_node || to == no_node) return std::nullopt;
  const auto at = edges_at(network, allowed);
  std::vector<std::uint32_t> came_by(network.nodes.size(), not_seen);
  std::vector<bool> seen(network.nodes.size(), false);
  std::deque<std::uint32_t> waiting{from};
  seen[from] = true;
  while (!waiting.empty() && !seen[to]) {
    const std::uint32_t node = waiting.front();
    waiting.pop_front();
    for (const std::uint32_t e : at[node]) {
      const std::uint32_t next = other_end(network.edges[e], node);
      if (seen[next]) continue;
      seen[next] = true;
      came_by[next] = e;
      waiting.push_back(next);
    }
  }
  if (!seen[to]) return std::nullopt;
  std::vector<std::uint32_t> edges;
  for (std::uint32_t node = to; node != from; node = other_end(network.edges[edges.back()], node))
    edges.push_back(came_by[node]);
  std::ranges::reverse(edges);
  return edges;
}

auto closed_without(const Positions& positions, const std::vector<bool>& avoided) {
  return [&positions, &avoided](const Edge& edge) {
    return conducts(edge) && !is_marked(avoided, edge) && closed(edge, positions) == Closed::yes;
  };
}

std::size_t main_terminal(const site::Site& site) {
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::MainEarthingTerminal>(site.elements[e]) != nullptr) return e;
  return site::none;
}

}  // namespace

std::uint32_t source_neutral(const Network& network, std::size_t element) {
  const auto source = std::ranges::find(network.sources, element, &SourcePoint::element);
  return source == network.sources.end() ? no_node : network.neutral(element, source->terminal);
}

const Edge* bond_edge(const Network& network, std::size_t element) {
  const std::span<const Edge> edges = network.edges_of(element);
  const auto found = std::ranges::find(edges, EdgeKind::bond, &Edge::kind);
  return found == edges.end() ? nullptr : &*found;
}

std::vector<std::uint32_t> way(const Network& network, const Positions& positions,
                               std::uint32_t from, std::uint32_t to,
                               const std::vector<bool>& avoided) {
  return walk(network, from, to, closed_without(positions, avoided))
      .value_or(std::vector<std::uint32_t>{});
}

bool joined_without(const Network& network, const Positions& positions, std::uint32_t from,
                    std::uint32_t to, const std::vector<bool>& avoided) {
  return walk(network, from, to, closed_without(positions, avoided)).has_value();
}

bool can_join(const Network& network, std::uint32_t from, std::uint32_t to,
              const std::vector<bool>& held_open) {
  if (from == no_node || to == no_node) return false;
  std::vector<Treat> treat;
  for (const Switch& it : network.switches) {
    const bool held = it.element < held_open.size() && held_open[it.element];
    // A device with one way through may be closed; one with several is in one of them at a time.
    const bool one_way = it.positions.size() == 2 && it.positions.front() == "open";
    treat.push_back(held ? Treat::as_open : one_way ? Treat::as_closed : Treat::as_it_may);
  }
  const WaysToJoin found = ways_to_join(network, {from}, {to}, treat);
  return !found.ways.empty() || !found.complete;
}

std::vector<bool> transfer_elements(const Network& network, const site::Site& site,
                                    std::span<const StateView> states) {
  std::vector<bool> transfers(site.elements.size(), false);
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const Switch& it = network.switches[s];
    const auto* device = site::facts<site::Device>(site.elements[it.element]);
    const bool inner_contact = it.part == "transfer";
    if (device == nullptr && !inner_contact) continue;
    bool moves = device != nullptr && device->kind == site::DeviceKind::changeover;
    std::optional<int> first;
    for (const StateView& state : states) {
      if (state.zones.empty()) continue;
      if (!first) first = state.positions.of[s];
      if (*first != state.positions.of[s]) moves = true;
    }
    if (moves) transfers[it.element] = true;
  }
  return transfers;
}

bool bypasses_open_lines(const Network& network, const Positions& positions, const Edge& passage) {
  if (passage.kind != EdgeKind::passage || passage.element == site::none) return false;
  const std::size_t side_a = network.nodes[passage.a].terminal;
  const std::size_t side_b = network.nodes[passage.b].terminal;
  return std::ranges::any_of(network.edges_of(passage.element), [&](const Edge& edge) {
    if (edge.kind != EdgeKind::pole || !site::lines.has(edge.conductor) ||
        closed(edge, positions) != Closed::no)
      return false;
    const std::size_t a = network.nodes[edge.a].terminal;
    const std::size_t b = network.nodes[edge.b].terminal;
    return (a == side_a && b == side_b) || (a == side_b && b == side_a);
  });
}

bool on_main_terminal(const Network& network, const site::Site& site, std::size_t element,
                      std::size_t terminal) {
  const std::size_t main = main_terminal(site);
  if (main == site::none) return false;
  return walk(network, network.node(main, 0, Conductor::pe),
              network.node(element, terminal, Conductor::pe),
              [&](const Edge& edge) {
                const bool supply =
                    edge.element != site::none &&
                    site::facts<site::Supply>(site.elements[edge.element]) != nullptr;
                return conducts(edge) && !supply && edge.conductor == Conductor::pe;
              })
      .has_value();
}

std::vector<std::size_t> electrodes_on_main_terminal(const Network& network,
                                                     const site::Site& site) {
  std::vector<std::size_t> found;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::Electrode>(site.elements[e]) != nullptr &&
        on_main_terminal(network, site, e))
      found.push_back(e);
  return found;
}

std::uint32_t main_terminal_node(const Network& network, const site::Site& site) {
  const std::size_t main = main_terminal(site);
  return main == site::none ? no_node : network.node(main, 0, Conductor::pe);
}

std::vector<std::uint32_t> protective_stretches(const Network& network, const site::Site& site) {
  constexpr std::uint32_t unseen = no_node;
  const auto protects = [&](const Edge& edge) {
    if (edge.kind == EdgeKind::earth) return false;
    if (edge.kind == EdgeKind::bond)
      return site::facts<site::PenSplit>(site.elements[edge.element]) != nullptr;
    return site::earths.has(network.nodes[edge.a].conductor) &&
           site::earths.has(network.nodes[edge.b].conductor);
  };
  const auto at = edges_at(network, protects);
  std::vector<std::uint32_t> stretch(network.nodes.size(), unseen);
  for (std::uint32_t first = 0; first < network.nodes.size(); ++first) {
    if (stretch[first] != unseen) continue;
    std::vector<std::uint32_t> waiting{first};
    stretch[first] = first;
    while (!waiting.empty()) {
      const std::uint32_t node = waiting.back();
      waiting.pop_back();
      for (const std::uint32_t e : at[node]) {
        const std::uint32_t next = other_end(network.edges[e], node);
        if (stretch[next] != unseen) continue;
        stretch[next] = first;
        waiting.push_back(next);
      }
    }
  }
  return stretch;
}

}  // namespace linewright::network
