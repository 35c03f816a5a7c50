#include "network/joints.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <utility>

namespace linewright::network {
namespace {

bool always_closed(const Edge& edge) {
  return edge.by == fixed && (edge.closed_in & 1U) != 0;
}

bool never_closed(const Edge& edge) {
  return edge.closed_in == 0 && edge.undecided_in == 0;
}

using site::Conductor;

/// Tells whether each way of one line conductor is a way of another one too, by carrying the nodes
/// of the one over to the other.
class Likeness {
 public:
  Likeness(const Network& network, const Joints& groups, const std::vector<Joint>& joints,
           const std::vector<std::uint32_t>& ends)
      : network_(network), groups_(groups), joints_(joints), ends_(ends) {
    for (const Joint& joint : joints)
      edges_[ends_of(network.edges[joint.edge])].push_back(joint.edge);
  }

  bool covered(Conductor line, Conductor by) const {
    std::map<std::uint32_t, std::uint32_t> over;
    const auto carry = [&](std::uint32_t node) {
      const std::uint32_t there = carried(node, by);
      if (there == no_node) return false;
      const auto [known, fresh] = over.emplace(groups_.group(node), groups_.group(there));
      return fresh || known->second == groups_.group(there);
    };
    for (const Joint& joint : joints_) {
      const Edge& edge = network_.edges[joint.edge];
      if (edge.conductor != line) continue;
      if (!has_twin(edge, by) || !carry(edge.a) || !carry(edge.b)) return false;
    }
    // Where the conductor touches another one, its ways do not keep to it.
    for (const Joint& joint : joints_)
      if (network_.edges[joint.edge].conductor != line &&
          (over.contains(joint.a) || over.contains(joint.b)))
        return false;
    return std::ranges::all_of(
        ends_, [&](std::uint32_t end) { return !over.contains(groups_.group(end)) || carry(end); });
  }

 private:
  static std::pair<std::uint32_t, std::uint32_t> ends_of(const Edge& edge) {
    return std::minmax(edge.a, edge.b);
  }

  std::uint32_t carried(std::uint32_t node, Conductor to) const {
    const Node& it = network_.nodes[node];
    return it.element == site::none ? no_node : network_.node(it.element, it.terminal, to);
  }

  bool has_twin(const Edge& edge, Conductor by) const {
    const std::uint32_t a = carried(edge.a, by);
    const std::uint32_t b = carried(edge.b, by);
    const auto found = edges_.find(std::minmax(a, b));
    if (edge.undecided_in != 0 || found == edges_.end()) return false;
    return std::ranges::any_of(found->second, [&](std::uint32_t e) {
      const Edge& twin = network_.edges[e];
      return twin.conductor == by && twin.by == edge.by && twin.closed_in == edge.closed_in &&
             twin.undecided_in == 0;
    });
  }

  const Network& network_;
  const Joints& groups_;
  const std::vector<Joint>& joints_;
  const std::vector<std::uint32_t>& ends_;
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<std::uint32_t>> edges_;
};

}  // namespace

Joints::Joints(const Network& network, const Which& used)
    : Joints(network, used, [](const Edge&) { return false; }) {}

Joints::Joints(const Network& network, const Which& used, const Which& kept)
    : group_(network.nodes.size()) {
  std::iota(group_.begin(), group_.end(), 0U);
  const auto root = [&](std::uint32_t i) {
    while (group_[i] != i)
      i = group_[i] = group_[group_[i]];
    return i;
  };
  for (const Edge& edge : network.edges)
    if (used(edge) && always_closed(edge) && !kept(edge))
      group_[std::max(root(edge.a), root(edge.b))] = std::min(root(edge.a), root(edge.b));
  for (std::uint32_t n = 0; n < group_.size(); ++n)
    group_[n] = root(n);
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    const Edge& edge = network.edges[e];
    if (!used(edge) || never_closed(edge)) continue;
    if (always_closed(edge) && !kept(edge)) continue;
    const std::uint32_t a = group_[edge.a];
    const std::uint32_t b = group_[edge.b];
    if (a != b) joints_.push_back({a, b, e});
  }
}

std::vector<Joint> Joints::between(const std::vector<std::uint32_t>& groups) const {
  std::vector<std::vector<std::size_t>> at(group_.size());
  for (std::size_t j = 0; j < joints_.size(); ++j) {
    at[joints_[j].a].push_back(j);
    at[joints_[j].b].push_back(j);
  }
  std::vector<bool> wanted(group_.size(), false);
  for (const std::uint32_t group : groups)
    wanted[group] = true;
  std::vector<std::size_t> degree(group_.size());
  std::vector<bool> gone(joints_.size(), false);
  std::vector<std::uint32_t> ends;
  for (std::uint32_t g = 0; g < at.size(); ++g) {
    degree[g] = at[g].size();
    if (degree[g] == 1 && !wanted[g]) ends.push_back(g);
  }
  const auto cut = [&](std::size_t joint, std::uint32_t end) {
    if (gone[joint]) return;
    gone[joint] = true;
    const std::uint32_t other = joints_[joint].a == end ? joints_[joint].b : joints_[joint].a;
    --degree[end];
    if (--degree[other] == 1 && !wanted[other]) ends.push_back(other);
  };
  while (!ends.empty()) {
    const std::uint32_t end = ends.back();
    ends.pop_back();
    for (const std::size_t joint : at[end])
      cut(joint, end);
  }
  std::vector<Joint> left;
  for (std::size_t j = 0; j < joints_.size(); ++j)
    if (!gone[j]) left.push_back(joints_[j]);
  return left;
}

std::vector<Joint> without_like_lines(const Network& network, const Joints& groups,
                                      std::vector<Joint> joints,
                                      const std::vector<std::uint32_t>& nodes) {
  constexpr std::array lines{Conductor::l1, Conductor::l2, Conductor::l3};
  for (const Conductor line : lines)
    for (const Conductor other : lines) {
      if (line == other || !Likeness(network, groups, joints, nodes).covered(line, other)) continue;
      std::erase_if(
          joints, [&](const Joint& joint) { return network.edges[joint.edge].conductor == line; });
      break;
    }
  return joints;
}

bool is_line_edge(const Edge& edge) {
  return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth &&
         site::lines.has(edge.conductor);
}

bool is_neutral_edge(const Edge& edge) {
  return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth &&
         (edge.conductor == site::Conductor::n || edge.conductor == site::Conductor::pen);
}

bool is_return_edge(const Edge& edge) {
  return !site::lines.has(edge.conductor);
}

}  // namespace linewright::network
