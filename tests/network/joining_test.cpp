#include "network/joining.hpp"

#include <algorithm>
#include <random>
#include <vector>

#include <catch2/catch.hpp>

namespace linewright::tests {
namespace {

using network::Edge;
using network::Network;
using network::SwitchAt;
using network::Treat;

/// A network of single lines: `size` nodes, then contacts and fixed joints at random.
Network random_network(unsigned seed, std::size_t size) {
  std::mt19937 random(seed);
  const auto below = [&](std::size_t n) { return static_cast<std::uint32_t>(random() % n); };
  Network net;
  for (std::size_t n = 0; n < size; ++n)
    net.nodes.push_back({.element = n, .terminal = 0, .conductor = site::Conductor::l1});
  for (std::size_t s = 0; s < 4; ++s) {
    net.switches.push_back({.element = s, .part = "", .positions = {"I", "0", "II"}, .rest = 1});
    const auto common = below(size);
    for (const std::uint32_t closed : {1U, 4U})
      net.edges.push_back({.a = common,
                           .b = below(size),
                           .kind = network::EdgeKind::pole,
                           .by = static_cast<int>(s),
                           .closed_in = closed});
  }
  for (std::size_t s = 4; s < 7; ++s) {
    net.switches.push_back({.element = s, .part = "", .positions = {"open", "closed"}, .rest = 0});
    net.edges.push_back({.a = below(size),
                         .b = below(size),
                         .kind = network::EdgeKind::pole,
                         .by = static_cast<int>(s),
                         .closed_in = 2U});
  }
  net.edges.push_back({.a = below(size), .b = below(size), .kind = network::EdgeKind::run});
  return net;
}

/// The plain way to tell: every position of every switch, tried one by one.
template <class Visit>
void for_all_positions(const Network& net, Visit visit) {
  network::Positions positions{std::vector<int>(net.switches.size(), 0)};
  while (true) {
    visit(positions);
    std::size_t s = 0;
    while (s < net.switches.size() &&
           positions.of[s] + 1 == static_cast<int>(net.switches[s].positions.size()))
      positions.of[s++] = 0;
    if (s == net.switches.size()) return;
    ++positions.of[s];
  }
}

bool taken(const std::vector<SwitchAt>& way, const network::Positions& positions) {
  return std::ranges::all_of(way, [&](SwitchAt at) {
    return positions.of[static_cast<std::size_t>(at.by)] == at.position;
  });
}

TEST_CASE("ways to join: they are just the positions that join, on 200 random networks") {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    const Network net = random_network(seed, 7);
    const std::vector<Treat> treat(net.switches.size(), Treat::as_it_may);
    const auto found = network::ways_to_join(net, {0}, {6}, treat);
    REQUIRE(found.complete);
    int wrong = 0;
    for_all_positions(net, [&](const network::Positions& positions) {
      const auto component = network::components(net, positions, false);
      const bool listed =
          std::ranges::any_of(found.ways, [&](const auto& way) { return taken(way, positions); });
      if (listed != (component[0] == component[6])) ++wrong;
    });
    INFO("seed " << seed);
    CHECK(wrong == 0);
  }
}

TEST_CASE("ways to join: none contains another, and the least come first") {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    const Network net = random_network(seed, 7);
    const std::vector<Treat> treat(net.switches.size(), Treat::as_it_may);
    const auto ways = network::ways_to_join(net, {0}, {6}, treat).ways;
    INFO("seed " << seed);
    CHECK(std::ranges::is_sorted(ways, {}, &std::vector<SwitchAt>::size));
    for (const auto& way : ways)
      CHECK(std::ranges::count_if(ways, [&](const auto& other) {
              return std::ranges::includes(way, other);
            }) == 1);  // itself
  }
}

/// Two nodes over one changeover: node 0 at its I, node 2 at its II, node 1 its common.
Network one_changeover() {
  Network net;
  for (std::size_t n = 0; n < 3; ++n)
    net.nodes.push_back({.element = n, .terminal = 0, .conductor = site::Conductor::l1});
  net.switches.push_back({.element = 0, .part = "", .positions = {"I", "0", "II"}, .rest = 1});
  net.edges.push_back({.a = 0, .b = 1, .kind = network::EdgeKind::pole, .by = 0, .closed_in = 1U});
  net.edges.push_back({.a = 1, .b = 2, .kind = network::EdgeKind::pole, .by = 0, .closed_in = 4U});
  return net;
}

TEST_CASE("ways to join: the throws of one changeover meet only if it overlaps") {
  const Network net = one_changeover();
  CHECK(network::ways_to_join(net, {0}, {2}, {Treat::as_it_may}).ways.empty());
  CHECK(network::ways_to_join(net, {0}, {1}, {Treat::as_it_may}).ways ==
        std::vector<std::vector<SwitchAt>>{{SwitchAt{0, 0}}});
  CHECK(network::ways_to_join(net, {0}, {2}, {Treat::bridged}).ways.size() == 1);
  CHECK(network::ways_to_join(net, {0}, {1}, {Treat::as_open}).ways.empty());
}

TEST_CASE("ways to join: a neutral joins no lines") {
  Network net = one_changeover();
  net.nodes[1].conductor = site::Conductor::n;
  CHECK(network::ways_to_join(net, {0}, {2}, {Treat::bridged}).ways.empty());
}

}  // namespace
}  // namespace linewright::tests
