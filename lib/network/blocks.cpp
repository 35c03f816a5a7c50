#include "network/blocks.hpp"

#include <algorithm>

namespace linewright::network {
namespace {

struct Visit {
  std::uint32_t node;
  std::uint32_t by_edge;
  std::size_t next;
};

/// The used edges at every node; an edge from a node to itself joins nothing.
std::vector<std::vector<std::uint32_t>> edges_around(std::size_t node_count,
                                                     const std::vector<BlockTree::EdgeEnds>& edges,
                                                     const std::vector<bool>& use) {
  std::vector<std::vector<std::uint32_t>> around(node_count);
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    if (!use[e] || edges[e].first == edges[e].second) continue;
    around[edges[e].first].push_back(e);
    around[edges[e].second].push_back(e);
  }
  return around;
}

}  // namespace

// Depth-first search without recursion, since a chain of boards can be thousands of nodes deep.
// An edge is put on the stack when it is first walked; when the search returns over a tree edge
// whose far end reaches no higher than its near end, everything above that edge is one block.
BlockTree::BlockTree(std::size_t node_count, const std::vector<EdgeEnds>& edges,
                     const std::vector<bool>& use, std::uint32_t root)
    : parent_block_(node_count, unseen) {
  const auto around = edges_around(node_count, edges, use);
  std::vector<std::uint32_t> depth(node_count, unseen);
  std::vector<std::uint32_t> low(node_count, 0);
  std::vector<std::uint32_t> walked;
  std::vector<Visit> path{{root, unseen, 0}};
  depth[root] = low[root] = 0;
  parent_block_[root] = at_root;
  while (!path.empty()) {
    Visit& here = path.back();
    if (here.next < around[here.node].size()) {
      const std::uint32_t e = around[here.node][here.next++];
      const std::uint32_t far = edges[e].first == here.node ? edges[e].second : edges[e].first;
      if (e == here.by_edge || depth[far] != unseen) {
        if (e == here.by_edge || depth[far] >= depth[here.node]) continue;
        walked.push_back(e);
        low[here.node] = std::min(low[here.node], depth[far]);
        continue;
      }
      depth[far] = low[far] = depth[here.node] + 1;
      walked.push_back(e);
      path.push_back({far, e, 0});
      continue;
    }
    const Visit done = here;
    path.pop_back();
    if (path.empty()) break;
    const std::uint32_t above = path.back().node;
    low[above] = std::min(low[above], low[done.node]);
    if (low[done.node] >= depth[above]) close_block(edges, above, done.by_edge, walked);
  }
}

// All edges walked since `last`, and it, are one block that hangs below the node `above`.
void BlockTree::close_block(const std::vector<EdgeEnds>& edges, std::uint32_t above,
                            std::uint32_t last, std::vector<std::uint32_t>& walked) {
  Block block{.edges = {}, .head = above};
  for (std::uint32_t e = unseen; e != last;) {
    e = walked.back();
    walked.pop_back();
    block.edges.push_back(e);
  }
  std::ranges::sort(block.edges);
  const auto index = static_cast<std::uint32_t>(blocks_.size());
  for (const std::uint32_t e : block.edges)
    for (const std::uint32_t node : {edges[e].first, edges[e].second})
      if (node != above && parent_block_[node] == unseen) parent_block_[node] = index;
  blocks_.push_back(std::move(block));
}

Ways BlockTree::to_root(std::uint32_t node) const {
  Ways ways;
  if (!joined(node)) return ways;
  ways.joined = true;
  for (std::uint32_t at = parent_block_[node]; at != at_root;
       at = parent_block_[blocks_[at].head]) {
    const auto& edges = blocks_[at].edges;
    auto& into = edges.size() == 1 ? ways.always : ways.sometimes;
    into.insert(into.end(), edges.begin(), edges.end());
  }
  std::ranges::reverse(ways.always);
  std::ranges::reverse(ways.sometimes);
  return ways;
}

}  // namespace linewright::network
