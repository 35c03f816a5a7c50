#include "network/blocks.hpp"

#include <algorithm>

namespace linewright::network {
namespace {

struct Visit {
  std::uint32_t node;
  std::uint32_t by_edge;
  std::size_t next;
};

/// The used edges at every node, in one piece of memory; an edge from a node to itself joins
/// nothing.
struct EdgesAround {
  std::vector<std::uint32_t> first;  ///< by node, where its edges begin in `edges`; one more
  std::vector<std::uint32_t> edges;
};

EdgesAround edges_around(std::size_t node_count, const std::vector<BlockTree::EdgeEnds>& edges,
                         const std::vector<bool>& use) {
  EdgesAround around;
  around.first.assign(node_count + 1, 0);
  const auto joins = [&](std::uint32_t e) { return use[e] && edges[e].first != edges[e].second; };
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    if (!joins(e)) continue;
    ++around.first[edges[e].first + 1];
    ++around.first[edges[e].second + 1];
  }
  for (std::size_t node = 0; node < node_count; ++node)
    around.first[node + 1] += around.first[node];
  around.edges.resize(around.first.back());
  std::vector<std::uint32_t> next(around.first.begin(), around.first.end() - 1);
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    if (!joins(e)) continue;
    around.edges[next[edges[e].first]++] = e;
    around.edges[next[edges[e].second]++] = e;
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
  std::vector<Visit> path{{root, unseen, around.first[root]}};
  depth[root] = low[root] = 0;
  parent_block_[root] = at_root;
  while (!path.empty()) {
    Visit& here = path.back();
    if (here.next < around.first[here.node + 1]) {
      const std::uint32_t e = around.edges[here.next++];
      const std::uint32_t far = edges[e].first == here.node ? edges[e].second : edges[e].first;
      if (e == here.by_edge || depth[far] != unseen) {
        if (e == here.by_edge || depth[far] >= depth[here.node]) continue;
        walked.push_back(e);
        low[here.node] = std::min(low[here.node], depth[far]);
        continue;
      }
      depth[far] = low[far] = depth[here.node] + 1;
      walked.push_back(e);
      path.push_back({far, e, around.first[far]});
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
  const auto begin = static_cast<std::ptrdiff_t>(edges_.size());
  for (std::uint32_t e = unseen; e != last;) {
    e = walked.back();
    walked.pop_back();
    edges_.push_back(e);
  }
  std::sort(edges_.begin() + begin, edges_.end());
  const auto index = static_cast<std::uint32_t>(blocks_.size());
  blocks_.push_back({static_cast<std::size_t>(begin), edges_.size(), above});
  for (std::size_t at = blocks_.back().first; at < blocks_.back().last; ++at) {
    const EdgeEnds& ends = edges[edges_[at]];
    for (const std::uint32_t node : {ends.first, ends.second})
      if (node != above && parent_block_[node] == unseen) parent_block_[node] = index;
  }
}

Ways BlockTree::to_root(std::uint32_t node) const {
  Ways ways;
  if (!joined(node)) return ways;
  ways.joined = true;
  for (std::uint32_t at = parent_block_[node]; at != at_root;
       at = parent_block_[blocks_[at].head]) {
    const Block& block = blocks_[at];
    auto& into = block.last - block.first == 1 ? ways.always : ways.sometimes;
    into.insert(into.end(), edges_.begin() + static_cast<std::ptrdiff_t>(block.first),
                edges_.begin() + static_cast<std::ptrdiff_t>(block.last));
  }
  std::ranges::reverse(ways.always);
  std::ranges::reverse(ways.sometimes);
  return ways;
}

}  // namespace linewright::network
