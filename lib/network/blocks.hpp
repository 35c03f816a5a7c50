// Blocks of a graph: which edges lie on every way between two nodes, and which on some.
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace linewright::network {

/// The edges between a node and the root of a block tree.
struct Ways {
  bool joined = false;
  std::vector<std::uint32_t> always;     ///< on every simple path, in order from the root
  std::vector<std::uint32_t> sometimes;  ///< on some simple paths only
};

/// The biconnected components of everything joined to one root. An edge lies on some simple path
/// between a node and the root exactly if its block is one of those between them; it lies on
/// every such path exactly if that block is the edge alone. (Hopcroft and Tarjan 1973.)
class BlockTree {
 public:
  using EdgeEnds = std::pair<std::uint32_t, std::uint32_t>;

  /// `edges` are taken by index; those with `use[index]` false do not exist.
  BlockTree(std::size_t node_count, const std::vector<EdgeEnds>& edges,
            const std::vector<bool>& use, std::uint32_t root);

  bool joined(std::uint32_t node) const { return parent_block_[node] != unseen; }
  Ways to_root(std::uint32_t node) const;

 private:
  static constexpr std::uint32_t unseen = 0xffffffffU;
  static constexpr std::uint32_t at_root = 0xfffffffeU;

  struct Block {
    std::size_t first = 0;  ///< its edges in `edges_`
    std::size_t last = 0;
    std::uint32_t head = 0;  ///< its node nearest to the root
  };
  void close_block(const std::vector<EdgeEnds>& edges, std::uint32_t above, std::uint32_t last,
                   std::vector<std::uint32_t>& walked);

  std::vector<std::uint32_t> edges_;  ///< block by block
  std::vector<Block> blocks_;
  std::vector<std::uint32_t> parent_block_;  ///< by node: block towards the root
};

}  // namespace linewright::network
