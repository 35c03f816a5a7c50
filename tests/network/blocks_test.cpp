#include "network/blocks.hpp"

#include <algorithm>
#include <random>
#include <set>

#include <catch2/catch.hpp>

using linewright::network::BlockTree;
using linewright::network::Ways;

namespace {

using Edges = std::vector<BlockTree::EdgeEnds>;

/// Every simple path between two nodes, found by walking them all: the plain second method.
struct AllPaths {
  const Edges& edges;
  const std::vector<bool>& use;
  std::uint32_t target;
  std::vector<std::vector<std::uint32_t>> found;
  std::vector<std::uint32_t> taken;
  std::set<std::uint32_t> seen;

  void walk(std::uint32_t at) {
    if (at == target) {
      found.push_back(taken);
      return;
    }
    seen.insert(at);
    for (std::uint32_t e = 0; e < edges.size(); ++e) {
      if (!use[e] || edges[e].first == edges[e].second) continue;
      if (edges[e].first != at && edges[e].second != at) continue;
      const std::uint32_t far = edges[e].first == at ? edges[e].second : edges[e].first;
      if (seen.count(far) > 0) continue;
      taken.push_back(e);
      walk(far);
      taken.pop_back();
    }
    seen.erase(at);
  }
};

Ways by_enumeration(const Edges& edges, const std::vector<bool>& use, std::uint32_t root,
                    std::uint32_t node) {
  AllPaths all{edges, use, root, {}, {}, {}};
  all.walk(node);
  Ways ways;
  ways.joined = !all.found.empty();
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    const auto on = static_cast<std::size_t>(std::ranges::count_if(
        all.found, [&](const auto& path) { return std::ranges::count(path, e) > 0; }));
    if (on == 0) continue;
    (on == all.found.size() ? ways.always : ways.sometimes).push_back(e);
  }
  return ways;
}

std::vector<std::uint32_t> sorted(std::vector<std::uint32_t> list) {
  std::ranges::sort(list);
  return list;
}

}  // namespace

TEST_CASE("blocks: a chain is on every way, in order from the root") {
  const Edges chain{{0, 1}, {1, 2}, {2, 3}};
  const Ways ways = BlockTree(4, chain, {true, true, true}, 0).to_root(3);
  CHECK(ways.joined);
  CHECK(ways.always == std::vector<std::uint32_t>{0, 1, 2});
  CHECK(ways.sometimes.empty());
}

TEST_CASE("blocks: two ways in parallel are on some ways only") {
  const Edges ring{{0, 1}, {1, 2}, {0, 2}};
  const Ways ways = BlockTree(3, ring, {true, true, true}, 0).to_root(2);
  CHECK(ways.always.empty());
  CHECK(sorted(ways.sometimes) == std::vector<std::uint32_t>{0, 1, 2});
}

TEST_CASE("blocks: two edges between the same nodes are two ways") {
  const Edges pair{{0, 1}, {0, 1}};
  CHECK(BlockTree(2, pair, {true, true}, 0).to_root(1).sometimes.size() == 2);
  CHECK(BlockTree(2, pair, {true, false}, 0).to_root(1).always.size() == 1);
}

TEST_CASE("blocks: a dead end beside the way is on no way") {
  const Edges star{{0, 1}, {1, 2}, {1, 3}, {3, 4}, {4, 1}};
  const Ways ways = BlockTree(5, star, std::vector<bool>(5, true), 0).to_root(2);
  CHECK(ways.always == std::vector<std::uint32_t>{0, 1});
  CHECK(ways.sometimes.empty());
}

TEST_CASE("blocks: what is not used does not join") {
  const Edges chain{{0, 1}, {1, 2}};
  const BlockTree tree(3, chain, {true, false}, 0);
  CHECK(tree.joined(1));
  CHECK_FALSE(tree.joined(2));
  CHECK_FALSE(tree.to_root(2).joined);
}

TEST_CASE("blocks: a chain of 200,000 nodes does not exhaust the stack") {
  Edges chain;
  for (std::uint32_t n = 0; n + 1 < 200000; ++n)
    chain.emplace_back(n, n + 1);
  const BlockTree tree(200000, chain, std::vector<bool>(chain.size(), true), 0);
  CHECK(tree.to_root(199999).always.size() == 199999);
}

TEST_CASE("blocks: agree with walking every simple path on 2,000 random small graphs") {
  std::mt19937 engine(20261125);
  const auto random = [&engine] { return static_cast<std::uint32_t>(engine()); };
  for (int round = 0; round < 2000; ++round) {
    const std::uint32_t nodes = 2 + random() % 6;
    Edges edges;
    std::vector<bool> use;
    for (std::uint32_t e = 0; e < 1 + random() % 10; ++e) {
      edges.emplace_back(random() % nodes, random() % nodes);
      use.push_back(random() % 5 != 0);
    }
    const BlockTree tree(nodes, edges, use, 0);
    for (std::uint32_t node = 1; node < nodes; ++node) {
      const Ways fast = tree.to_root(node);
      const Ways plain = by_enumeration(edges, use, 0, node);
      REQUIRE(fast.joined == plain.joined);
      REQUIRE(sorted(fast.always) == plain.always);
      REQUIRE(sorted(fast.sometimes) == plain.sometimes);
    }
  }
}
