#include "network/joints.hpp"

#include <algorithm>
#include <numeric>

namespace linewright::network {
namespace {

bool always_closed(const Edge& edge) {
  return edge.by == fixed && (edge.closed_in & 1U) != 0;
}

bool never_closed(const Edge& edge) {
  return edge.closed_in == 0 && edge.undecided_in == 0;
}

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
