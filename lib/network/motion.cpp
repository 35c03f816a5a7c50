#include <algorithm>

#include "network/transitions.hpp"

namespace linewright::network {
namespace {

std::uint32_t bit(std::size_t position) {
  return 1U << position;
}

/// The edges of one switch, told apart by what they carry.
struct Poles {
  std::vector<std::size_t> lines;
  std::vector<std::size_t> neutrals;
};

Poles poles_of(const Network& network, int by) {
  Poles poles;
  const std::size_t element = network.switches[static_cast<std::size_t>(by)].element;
  for (std::size_t e = network.first_edge[element]; e < network.first_edge[element + 1]; ++e) {
    const Edge& edge = network.edges[e];
    if (edge.by != by || edge.kind == EdgeKind::bond) continue;
    (site::lines.has(edge.conductor) ? poles.lines : poles.neutrals).push_back(e);
  }
  return poles;
}

class Adder {
 public:
  Adder(const Network& network, const site::Site& site) : site_(site) {
    motion_.network = network;
    const std::size_t count = network.switches.size();
    motion_.overlaps.resize(count);
    for (auto* list : {&motion_.first_neutral_alone, &motion_.first_lines_alone,
                       &motion_.first_overlap, &motion_.parted})
      list->assign(count, unknown);
  }

  MotionNetwork run() {
    for (std::size_t s = 0; s < motion_.overlaps.size(); ++s) {
      const auto* device =
          site::facts<site::Device>(site_.elements[motion_.network.switches[s].element]);
      if (device != nullptr) add(s, *device);
    }
    return std::move(motion_);
  }

 private:
  void add(std::size_t s, const site::Device& device) {
    Switch& it = motion_.network.switches[s];
    const std::size_t own = it.positions.size();
    const Poles poles = poles_of(motion_.network, static_cast<int>(s));
    motion_.parted[s] = next(it, "between");
    if (device.kind == site::DeviceKind::changeover) add_overlaps(s, own, device);
    if (poles.lines.empty() || poles.neutrals.empty()) return;
    motion_.first_neutral_alone[s] = add_half(it, own, poles.neutrals, "neutral only");
    motion_.first_lines_alone[s] = add_half(it, own, poles.lines, "lines only");
  }

  std::span<Edge> edges_of(std::size_t element) {
    const auto first = motion_.network.edges.begin();
    return {first + motion_.network.first_edge[element],
            first + motion_.network.first_edge[element + 1]};
  }

  static int next(Switch& it, const char* name) {
    it.positions.emplace_back(name);
    return static_cast<int>(it.positions.size()) - 1;
  }

  /// For each own position one more in which only these edges stand as there.
  int add_half(Switch& it, std::size_t own, const std::vector<std::size_t>& edges,
               const char* name) {
    const int first = static_cast<int>(it.positions.size());
    for (std::size_t p = 0; p < own; ++p) {
      const auto at = static_cast<std::size_t>(next(it, name));
      for (const std::size_t e : edges)
        copy(motion_.network.edges[e], p, at);
    }
    return first;
  }

  static void copy(Edge& edge, std::size_t from, std::size_t to) {
    if ((edge.closed_in & bit(from)) != 0) edge.closed_in |= bit(to);
    if ((edge.undecided_in & bit(from)) != 0) edge.undecided_in |= bit(to);
  }

  void add_overlaps(std::size_t s, std::size_t own, const site::Device& device) {
    Switch& it = motion_.network.switches[s];
    motion_.first_overlap[s] = static_cast<int>(it.positions.size());
    for (std::size_t p = 0; p < own; ++p)
      for (std::size_t q = p + 1; q < own; ++q) {
        motion_.overlaps[s].push_back(bit(p) | bit(q));
        const auto at = static_cast<std::size_t>(next(it, "both"));
        for (Edge& edge : edges_of(it.element)) {
          if (edge.by != static_cast<int>(s)) continue;
          copy(edge, p, at);
          copy(edge, q, at);
          if (device.break_before_make || device.closed_transition) continue;
          edge.undecided_in |= edge.closed_in & bit(at);
          edge.closed_in &= ~bit(at);
        }
      }
  }

  const site::Site& site_;
  MotionNetwork motion_;
};

}  // namespace

MotionNetwork with_motion(const Network& network, const site::Site& site) {
  return Adder(network, site).run();
}

}  // namespace linewright::network
