#include "network/isolation.hpp"

#include <algorithm>
#include <deque>

#include "network/sequence.hpp"

namespace linewright::network {
namespace {

constexpr std::uint32_t no_edge = 0xffffffffU;

bool live_conductor(site::Conductor c) {
  return site::lines.has(c) || site::direct_current.has(c);
}

/// Edges that a voltage can pass in some position.
bool may_conduct(const Edge& edge) {
  return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth &&
         live_conductor(edge.conductor) && (edge.closed_in | edge.undecided_in) != 0;
}

std::vector<std::uint32_t> live_nodes(const Network& network, const site::Site& site,
                                      std::size_t element) {
  std::vector<std::uint32_t> nodes;
  for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t)
    for (const site::Conductor c : site::all_conductors)
      if (live_conductor(c))
        if (const std::uint32_t node = network.node(element, t, c); node != no_node)
          nodes.push_back(node);
  return nodes;
}

bool is_inverter(const site::Site& site, std::size_t element) {
  return site::facts<site::Inverter>(site.elements[element]) != nullptr;
}

/// What makes a voltage by itself. An inverter does so only from what feeds its other sides.
bool makes_voltage(const site::Site& site, std::size_t element) {
  const site::Element& it = site.elements[element];
  return site::facts<site::Supply>(it) != nullptr || site::facts<site::Generator>(it) != nullptr ||
         site::facts<site::Battery>(it) != nullptr || site::facts<site::PvArray>(it) != nullptr;
}

class Isolator {
 public:
  Isolator(const Network& network, const site::Site& site, const Movement& movement,
           const std::vector<std::size_t>& elements)
      : network_(network),
        site_(site),
        movement_(movement),
        target_(site.elements.size(), false),
        cuts_(network.switches.size(), false),
        joints_(network.nodes.size()) {
    isolation_.elements = elements;
    for (const std::size_t e : elements)
      target_[e] = true;
    for (std::uint32_t e = 0; e < network.edges.size(); ++e)
      if (may_conduct(network.edges[e])) {
        joints_[network.edges[e].a].push_back(e);
        joints_[network.edges[e].b].push_back(e);
      }
    for (std::size_t s = 0; s < network.switches.size(); ++s)
      if (const auto lock = lock_at(s); lock && lock->sound()) cuts_[s] = true;
  }

  Isolation run() {
    while (true) {
      spread();
      if (!close_one_leak()) break;
    }
    gather_locks();
    return std::move(isolation_);
  }

 private:
  /// What the switch is worth as a lock; nothing if it cannot serve as one at all.
  std::optional<LockPoint> lock_at(std::size_t s) const {
    const std::size_t element = network_.switches[s].element;
    const auto* device = site::facts<site::Device>(site_.elements[element]);
    if (device == nullptr || target_[element]) return std::nullopt;
    if (device->kind == site::DeviceKind::link || device->kind == site::DeviceKind::contactor)
      return std::nullopt;
    const HazardScope nothing;
    if (!may_be_moved({.network = network_, .site = site_, .movement = movement_, .scope = nothing},
                      static_cast<int>(s)))
      return std::nullopt;
    LockPoint lock{.by = static_cast<int>(s), .position = unknown};
    for (const int position : movement_.of[s].positions)
      if (is_open_position(network_, lock.by, position)) lock.position = position;
    if (lock.position == unknown) return std::nullopt;
    lock.isolates = device->isolates;
    // IEC 60947-3 calls disconnector only what is made to isolate (from memory).
    if (!lock.isolates && (device->kind == site::DeviceKind::disconnector ||
                           device->kind == site::DeviceKind::switch_disconnector))
      lock.isolates = true;
    lock.lockable = device->lockable;
    lock.by_hand = movement_.of[s].mover == Mover::hand || movement_.of[s].mover == Mover::both;
    return lock;
  }

  /// Everything that is joined to the elements up to the cuts, with the edge it was reached over.
  void spread() {
    isolation_.inside.assign(network_.nodes.size(), false);
    over_.assign(network_.nodes.size(), no_edge);
    from_.assign(network_.nodes.size(), no_node);
    std::deque<std::uint32_t> next;
    const auto enter = [&](std::uint32_t node, std::uint32_t edge, std::uint32_t before) {
      if (isolation_.inside[node]) return;
      isolation_.inside[node] = true;
      over_[node] = edge;
      from_[node] = before;
      next.push_back(node);
    };
    for (const std::size_t element : isolation_.elements)
      for (const std::uint32_t node : live_nodes(network_, site_, element))
        enter(node, no_edge, no_node);
    while (!next.empty()) {
      const std::uint32_t node = next.front();
      next.pop_front();
      const std::size_t element = network_.nodes[node].element;
      if (element != site::none && is_inverter(site_, element))
        for (const std::uint32_t side : live_nodes(network_, site_, element))
          enter(side, no_edge, node);
      for (const std::uint32_t e : joints_[node]) {
        const Edge& edge = network_.edges[e];
        if (edge.by >= 0 && cuts_[static_cast<std::size_t>(edge.by)]) continue;
        enter(edge.a == node ? edge.b : edge.a, e, node);
      }
    }
  }

  /// The device nearest to the elements on the way over which a node was reached, or -1.
  int nearest_opener(std::uint32_t node) const {
    int nearest = -1;
    for (std::uint32_t n = node; n != no_node; n = from_[n]) {
      if (over_[n] == no_edge) continue;
      const int by = network_.edges[over_[n]].by;
      if (by >= 0 && lock_at(static_cast<std::size_t>(by))) nearest = by;
    }
    return nearest;
  }

  /// A store is parted from its inverter before anyone looks for a lock on the inverter's other
  /// sides.
  bool cut_towards_an_inverter() {
    for (std::uint32_t node = 0; node < network_.nodes.size(); ++node) {
      const Node& it = network_.nodes[node];
      if (!isolation_.inside[node] || over_[node] == no_edge || it.element == site::none) continue;
      if (!is_inverter(site_, it.element) || target_[it.element]) continue;
      if (!site::direct_current.has(it.conductor)) continue;
      if (cut_towards(node)) return true;
    }
    return false;
  }

  std::vector<std::uint32_t> nodes_inside(std::size_t element) const {
    std::vector<std::uint32_t> nodes = live_nodes(network_, site_, element);
    std::erase_if(nodes, [&](std::uint32_t node) { return !isolation_.inside[node]; });
    return nodes;
  }

  /// Cuts at the nearest device that opens on the way to a node; false if there is none.
  bool cut_towards(std::uint32_t node) {
    const int by = nearest_opener(node);
    if (by >= 0) cuts_[static_cast<std::size_t>(by)] = true;
    return by >= 0;
  }

  /// Makes a cut towards one source that is inside; false if there is none that can be cut off.
  bool close_one_leak() {
    isolation_.stays_live.clear();
    isolation_.stopped.clear();
    if (cut_towards_an_inverter()) return true;
    for (std::size_t e = 0; e < site_.elements.size(); ++e) {
      if (!makes_voltage(site_, e) || target_[e]) continue;
      const auto reached = nodes_inside(e);
      if (std::ranges::any_of(reached, [&](std::uint32_t node) { return cut_towards(node); }))
        return true;
      if (!reached.empty()) isolation_.stays_live.push_back(e);
    }
    for (const std::size_t e : isolation_.elements)
      if (makes_voltage(site_, e)) isolation_.stays_live.push_back(e);
    // What can be stopped is no source any more once it stands still.
    for (std::size_t s = 0; s < network_.sources.size(); ++s)
      if (stops_inside(s)) isolation_.stopped.push_back(s);
    std::erase_if(isolation_.stays_live, [&](std::size_t e) {
      return site::facts<site::Generator>(site_.elements[e]) != nullptr;
    });
    return false;
  }

  bool stops_inside(std::size_t s) const {
    const SourcePoint& source = network_.sources[s];
    if (source.utility) return false;
    return !nodes_inside(source.element).empty();
  }

  /// Nodes outside the dead part that a switch would join to it.
  std::vector<std::uint32_t> far_side(std::size_t by) const {
    std::vector<std::uint32_t> outside;
    for (const Edge& edge : network_.edges) {
      if (edge.by != static_cast<int>(by) || !may_conduct(edge)) continue;
      const bool a = isolation_.inside[edge.a];
      const bool b = isolation_.inside[edge.b];
      if (a != b) outside.push_back(a ? edge.b : edge.a);
    }
    return outside;
  }

  void gather_locks() {
    for (std::size_t s = 0; s < cuts_.size(); ++s) {
      if (!cuts_[s]) continue;
      std::optional<LockPoint> lock = lock_at(s);
      if (!lock) continue;
      lock->holds_off = beyond(far_side(s));
      if (!lock->holds_off.empty()) isolation_.locks.push_back(std::move(*lock));
    }
    // Alternating current first, as they are opened.
    std::ranges::stable_partition(isolation_.locks, [&](const LockPoint& lock) {
      const std::size_t element = network_.switches[static_cast<std::size_t>(lock.by)].element;
      return (site_.elements[element].conductors & site::direct_current).empty();
    });
  }

  /// Sources, batteries, PV and inverters joined to these nodes outside the dead part.
  std::vector<std::size_t> beyond(std::vector<std::uint32_t> nodes) const {
    std::vector<bool> seen = isolation_.inside;
    std::vector<bool> found(site_.elements.size(), false);
    for (const std::uint32_t node : nodes)
      seen[node] = true;
    while (!nodes.empty()) {
      const std::uint32_t node = nodes.back();
      nodes.pop_back();
      const std::size_t element = network_.nodes[node].element;
      if (element != site::none && (makes_voltage(site_, element) || is_inverter(site_, element)))
        found[element] = true;
      for (const std::uint32_t e : joints_[node]) {
        const Edge& edge = network_.edges[e];
        const std::uint32_t other = edge.a == node ? edge.b : edge.a;
        if (seen[other]) continue;
        seen[other] = true;
        nodes.push_back(other);
      }
    }
    std::vector<std::size_t> elements;
    for (std::size_t e = 0; e < found.size(); ++e)
      if (found[e]) elements.push_back(e);
    return elements;
  }

  const Network& network_;
  const site::Site& site_;
  const Movement& movement_;
  std::vector<bool> target_;  ///< by element
  std::vector<bool> cuts_;    ///< by switch
  std::vector<std::vector<std::uint32_t>> joints_;
  std::vector<std::uint32_t> over_;  ///< by node: edge over which it was reached
  std::vector<std::uint32_t> from_;
  Isolation isolation_;
};

}  // namespace

Isolation isolation_of(const Network& network, const site::Site& site, const Movement& movement,
                       const std::vector<std::size_t>& elements) {
  return Isolator(network, site, movement, elements).run();
}

}  // namespace linewright::network
