#include "network/ways.hpp"

#include <algorithm>

namespace linewright::network {
namespace {

using site::Conductor;

constexpr site::Conductors neutrals{Conductor::n, Conductor::pen};

template <class List>
void add_once(List& list, std::size_t item) {
  if (item != site::none && std::ranges::count(list, item) == 0) list.push_back(item);
}

}  // namespace

bool Passage::may_pass(std::size_t device) const {
  return std::ranges::count(devices, device) > 0 || std::ranges::count(detour_devices, device) > 0;
}

WaysFrom::WaysFrom(const Network& network, const site::Site& site, const Positions& positions,
                   const SourcePoint& source)
    : network_(network), site_(site) {
  std::vector<BlockTree::EdgeEnds> ends;
  std::vector<bool> line(network.edges.size());
  std::vector<bool> neutral(network.edges.size());
  for (std::size_t e = 0; e < network.edges.size(); ++e) {
    const Edge& edge = network.edges[e];
    ends.emplace_back(edge.a, edge.b);
    if (edge.kind == EdgeKind::bond || edge.kind == EdgeKind::earth) continue;
    if (closed(edge, positions) != Closed::yes) continue;
    line[e] = site::lines.has(edge.conductor);
    neutral[e] = neutrals.has(edge.conductor);
  }
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
    const std::uint32_t root = network.node(source.element, source.terminal, c);
    if (root != no_node) lines_.emplace_back(network.nodes.size(), ends, line, root);
  }
  const std::uint32_t n = network.neutral(source.element, source.terminal);
  if (n != no_node) neutral_.emplace_back(network.nodes.size(), ends, neutral, n);
}

Passage WaysFrom::lines_to(std::size_t element, std::size_t terminal) const {
  Passage passage;
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
    const std::uint32_t at = network_.node(element, terminal, c);
    if (at == no_node) continue;
    for (const BlockTree& tree : lines_)
      add(tree.to_root(at), passage);
  }
  return passage;
}

Passage WaysFrom::line_to(std::size_t element, std::size_t terminal, Conductor line) const {
  Passage passage;
  const std::uint32_t at = network_.node(element, terminal, line);
  if (at == no_node) return passage;
  for (const BlockTree& tree : lines_)
    add(tree.to_root(at), passage);
  return passage;
}

Passage WaysFrom::neutral_to(std::size_t element, std::size_t terminal) const {
  Passage passage;
  const std::uint32_t at = network_.neutral(element, terminal);
  if (at == no_node) return passage;
  for (const BlockTree& tree : neutral_)
    add(tree.to_root(at), passage);
  return passage;
}

void WaysFrom::add(const Ways& ways, Passage& passage) const {
  if (!ways.joined) return;
  passage.joined = true;
  for (const bool always : {true, false})
    for (const std::uint32_t e : always ? ways.always : ways.sometimes) {
      const Edge& edge = network_.edges[e];
      add_once(always ? passage.runs : passage.detour_runs, edge.run);
      if (edge.element == site::none) continue;
      if (site::facts<site::Device>(site_.elements[edge.element]) == nullptr) continue;
      add_once(always ? passage.devices : passage.detour_devices, edge.element);
    }
}

const SourcePoint* source_point(const Network& network, std::size_t element) {
  const auto found = std::ranges::find(network.sources, element, &SourcePoint::element);
  return found == network.sources.end() ? nullptr : &*found;
}

}  // namespace linewright::network
