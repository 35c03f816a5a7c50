#include "figures/guards.hpp"

#include <algorithm>
#include <set>

#include <fmt/core.h>

#include "electrical/overload.hpp"
#include "figures/load_demand.hpp"

namespace linewright::figures {
namespace {

using network::no_node;
using site::Conductor;

enum class Side { flows_in, flows_out };

electrical::OverloadDevice kind_of(const site::Device& device) {
  const bool fuse =
      device.kind == site::DeviceKind::fuse || device.kind == site::DeviceKind::fuse_switch;
  // An adjustable breaker (IEC 60947-2) opens earlier than a household one: the later is taken.
  return fuse ? electrical::OverloadDevice::fuse_gg : electrical::OverloadDevice::breaker_60898;
}

class Search {
 public:
  Search(const GuardScope& scope, std::size_t run, Side side)
      : site_(scope.site),
        network_(scope.network),
        edges_(scope.edges),
        view_(scope.view),
        run_(run),
        side_(side) {}

  /// Everything that can be reached from here without passing a device that opens by itself.
  void from(std::uint32_t start) {
    std::vector<std::uint32_t> open{start};
    std::set<std::uint32_t> seen{start};
    while (!open.empty()) {
      const std::uint32_t node = open.back();
      open.pop_back();
      meet(node);
      for (const std::uint32_t e : edges_[node]) {
        const network::Edge& edge = network_.edges[e];
        if (!leads_on(edge)) continue;
        const std::uint32_t other = edge.a == node ? edge.b : edge.a;
        if (seen.insert(other).second) open.push_back(other);
      }
    }
  }

  Guards guards() {
    Guards result;
    result.why_not = why_not_;
    result.elements.assign(found_.begin(), found_.end());
    if (found_.empty() && fuse_.si == 0.0 && why_not_.empty()) result.why_not = "nothing bounds it";
    Current rated = fuse_;
    Current operates = fuse_.si > 0.0 ? electrical::conventional_operating_current(
                                            electrical::OverloadDevice::fuse_gg, fuse_)
                                      : Current{};
    for (const std::size_t e : found_)
      add(e, result, rated, operates);
    if (!result.why_not.empty() || !result.missing.empty()) return result;
    result.rated = rated;
    result.operates = operates;
    return result;
  }

 private:
  bool leads_on(const network::Edge& edge) {
    if (edge.run == run_ || !site::lines.has(edge.conductor)) return false;
    if (network::closed(edge, view_.positions) != network::Closed::yes) return false;
    if (edge.kind != network::EdgeKind::pole) return true;
    const auto* device = site::facts<site::Device>(site_.elements[edge.element]);
    if (device == nullptr || !site::breaks_overcurrent(*device)) return true;
    found_.insert(edge.element);
    return false;
  }

  void meet(std::uint32_t node) {
    const network::Node& at = network_.nodes[node];
    if (at.element == site::none) return;
    const site::Element& element = site_.elements[at.element];
    const bool runs = std::ranges::count(view_.state->running, at.element) > 0;
    if (site::facts<site::LoadGroup>(element) != nullptr && side_ == Side::flows_out)
      why_not_ = "a load without a device of its own hangs on it";
    const auto point = std::ranges::find_if(network_.sources, [&](const auto& source) {
      return source.element == at.element && source.terminal == at.terminal;
    });
    if (point == network_.sources.end() || !runs) return;
    if (side_ == Side::flows_out) {
      why_not_ = "a source hangs on it";
    } else if (const auto* supply = site::facts<site::Supply>(element);
               supply != nullptr && supply->service_fuse) {
      fuse_ = *supply->service_fuse;
    } else if (site::facts<site::Inverter>(element) != nullptr) {
      found_.insert(at.element);
    } else {
      why_not_ = fmt::format("{} feeds it without a device", called(element));
    }
  }

  void add(std::size_t e, Guards& result, Current& rated, Current& operates) const {
    const site::Element& element = site_.elements[e];
    if (const auto* device = site::facts<site::Device>(element)) {
      if (!device->rated_current) {
        result.missing.push_back({"rated current", called(element)});
        return;
      }
      rated += *device->rated_current;
      operates +=
          electrical::conventional_operating_current(kind_of(*device), *device->rated_current);
      return;
    }
    const auto& inverter = *site::facts<site::Inverter>(element);
    if (!inverter.power || !site_.system.line_to_earth) {
      result.missing.push_back({"power", called(element)});
      return;
    }
    // An inverter holds its own current down; it opens nothing, and so counts once for both.
    const int lines = std::max(1, (element.conductors & site::lines).count());
    const Current most = inverter.power->base / (lines * *site_.system.line_to_earth);
    rated += most;
    operates += most;
  }

  const site::Site& site_;
  const network::Network& network_;
  const EdgesAt& edges_;
  const network::StateView& view_;
  std::size_t run_;
  Side side_;
  std::set<std::size_t> found_;
  Current fuse_{};
  std::string why_not_;
};

Guards guards_at(const GuardScope& scope, std::size_t run, site::Terminal end, Side side) {
  Search search(scope, run, side);
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
    const std::uint32_t node = scope.network.node(end.element, end.terminal, c);
    if (node != no_node && scope.site.runs[run].conductors.has(c)) search.from(node);
  }
  return search.guards();
}

bool devices_only(const site::Site& site, const Guards& guards) {
  return std::ranges::all_of(guards.elements, [&](std::size_t e) {
    return site::facts<site::Device>(site.elements[e]) != nullptr;
  });
}

}  // namespace

EdgesAt edges_at(const network::Network& network) {
  EdgesAt edges(network.nodes.size());
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    edges[network.edges[e].a].push_back(e);
    edges[network.edges[e].b].push_back(e);
  }
  return edges;
}

Guards guards_of(const GuardScope& scope, std::size_t run, site::Terminal enters) {
  const site::Run& it = scope.site.runs[run];
  const site::Terminal leaves = it.from == enters ? it.to : it.from;
  Guards in = guards_at(scope, run, enters, Side::flows_in);
  Guards out = guards_at(scope, run, leaves, Side::flows_out);
  if (!in.rated || !out.rated) return out.rated ? out : in;
  // A device protects; a source that holds itself down counts where there is none.
  const bool in_protects = devices_only(scope.site, in);
  if (in_protects != devices_only(scope.site, out)) return in_protects ? in : out;
  return *out.rated < *in.rated ? out : in;
}

}  // namespace linewright::figures
