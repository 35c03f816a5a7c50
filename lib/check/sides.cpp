#include "check/sides.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "network/neutral_paths.hpp"
#include "network/ways.hpp"

namespace linewright::check {
namespace {

using network::Closed;
using network::Edge;
using network::EdgeKind;
using network::no_node;

constexpr site::Conductor line_marks[] = {site::Conductor::l1, site::Conductor::l2,
                                          site::Conductor::l3};

/// The conductors on each side of whatever changes over.
class Sides {
 public:
  explicit Sides(const AnalysedSite& site)
      : site_(site),
        transfers_(network::transfer_elements(site.network, site.site, site.states)),
        up_(site.network.nodes.size()) {
    std::iota(up_.begin(), up_.end(), 0U);
    for (const Edge& edge : site.network.edges)
      if (stays_closed(edge)) join(edge.a, edge.b);
    for (std::size_t e = 0; e < transfers_.size(); ++e)
      if (transfers_[e] || network::source_point(site.network, e) != nullptr) ends_.push_back(e);
  }

  std::uint32_t of(std::uint32_t node) {
    while (up_[node] != node)
      node = up_[node] = up_[up_[node]];
    return node;
  }
  /// Elements at which a side begins: what changes over, and sources.
  const std::vector<std::size_t>& ends() const { return ends_; }

 private:
  bool stays_closed(const Edge& edge) const {
    if (edge.kind == EdgeKind::bond || edge.kind == EdgeKind::earth) return false;
    if (edge.kind == EdgeKind::pole && transfers_[edge.element]) return false;
    return std::ranges::any_of(site_.states, [&](const network::StateView& state) {
      return network::closed(edge, state.positions) != Closed::no;
    });
  }
  void join(std::uint32_t a, std::uint32_t b) { up_[of(std::max(a, b))] = of(std::min(a, b)); }

  const AnalysedSite& site_;
  std::vector<bool> transfers_;
  std::vector<std::uint32_t> up_;
  std::vector<std::size_t> ends_;
};

/// Where a circuit's line and its neutral hang.
struct Hangs {
  bool together = false;
  std::size_t line_side = site::none;
  std::size_t neutral_side = site::none;
};

bool touches_line(const AnalysedSite& site, Sides& sides, std::size_t load, std::size_t element,
                  std::size_t terminal) {
  for (const site::Conductor mine : line_marks)
    for (const site::Conductor other : line_marks) {
      const std::uint32_t a = site.network.node(load, 0, mine);
      const std::uint32_t b = site.network.node(element, terminal, other);
      if (a != no_node && b != no_node && sides.of(a) == sides.of(b)) return true;
    }
  return false;
}

Hangs hangs(const AnalysedSite& site, Sides& sides, std::size_t load, std::uint32_t neutral) {
  Hangs found;
  for (const std::size_t e : sides.ends())
    for (std::size_t t = 0; t < site.element(e).terminals.size(); ++t) {
      const std::uint32_t other = site.network.neutral(e, t);
      if (other == no_node) continue;
      const bool line = touches_line(site, sides, load, e, t);
      const bool same = sides.of(other) == sides.of(neutral);
      if (line && same) found.together = true;
      if (line && !same && found.line_side == site::none) found.line_side = e;
      if (same && !line && found.neutral_side == site::none) found.neutral_side = e;
    }
  return found;
}

}  // namespace

std::vector<AcrossSides> circuits_across_sides(const AnalysedSite& site) {
  Sides sides(site);
  std::map<std::pair<std::uint32_t, std::uint32_t>, AcrossSides> found;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(site.element(e)) == nullptr) continue;
    const std::uint32_t neutral = site.network.neutral(e, 0);
    if (neutral == no_node) continue;
    const Hangs it = hangs(site, sides, e, neutral);
    if (it.together || it.line_side == site::none || it.neutral_side == site::none) continue;
    AcrossSides& alike = found[{static_cast<std::uint32_t>(it.line_side), sides.of(neutral)}];
    alike.loads.push_back(e);
    alike.line_side = it.line_side;
    alike.neutral_side = it.neutral_side;
  }
  std::vector<AcrossSides> all;
  for (auto& [key, alike] : found)
    all.push_back(std::move(alike));
  return all;
}

bool across_sides(const AnalysedSite& site, std::size_t load) {
  const auto all = circuits_across_sides(site);
  return std::ranges::any_of(
      all, [&](const AcrossSides& it) { return std::ranges::count(it.loads, load) > 0; });
}

}  // namespace linewright::check
