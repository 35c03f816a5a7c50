#include "check/line_order.hpp"

#include <algorithm>
#include <array>

#include "network/ways.hpp"

namespace linewright::check {
namespace {

using site::Conductor;
constexpr std::array<Conductor, 3> lines{Conductor::l1, Conductor::l2, Conductor::l3};

/// Which line of the source each line of the load is joined to; none if not each to just one.
std::optional<std::array<int, 3>> permutation(const AnalysedSite& site,
                                              const network::StateView& state,
                                              const network::SourcePoint& source,
                                              std::size_t load) {
  std::array<int, 3> order{-1, -1, -1};
  for (std::size_t k = 0; k < 3; ++k)
    for (std::size_t j = 0; j < 3; ++j) {
      const std::uint32_t there = site.network.node(load, 0, lines[k]);
      const std::uint32_t here = site.network.node(source.element, source.terminal, lines[j]);
      if (!state.joined(there, here)) continue;
      if (order[k] >= 0) return std::nullopt;
      order[k] = static_cast<int>(j);
    }
  if (std::ranges::count(order, -1) > 0) return std::nullopt;
  return order;
}

int displaced(const std::array<int, 3>& order) {
  int count = 0;
  for (int k = 0; k < 3; ++k)
    count += order[static_cast<std::size_t>(k)] == k ? 0 : 1;
  return count;
}

}  // namespace

std::vector<Arrival> arrivals(const AnalysedSite& site) {
  std::vector<Arrival> found;
  for (const network::StateView& state : site.states)
    for (const std::size_t load : state.alive_loads)
      for (const network::Zone& zone : state.zones)
        for (const std::size_t source : zone.sources) {
          const auto order =
              permutation(site, state, *network::source_point(site.network, source), load);
          if (!order) continue;
          // Two displaced lines are one exchange, which turns the order; three are a round.
          found.push_back({&state, source, load, displaced(*order) == 0, displaced(*order) == 2});
        }
  return found;
}

std::optional<site::Rotation> rotation_of(const AnalysedSite& site, std::size_t source) {
  const site::Element& element = site.element(source);
  if (const auto* supply = site::facts<site::Supply>(element)) return supply->rotation;
  if (const auto* set = site::facts<site::Generator>(element)) return set->rotation;
  if (const auto* inverter = site::facts<site::Inverter>(element)) return inverter->rotation;
  return std::nullopt;
}

bool follows_a_grid(const AnalysedSite& site, std::size_t source) {
  const network::SourcePoint* point = network::source_point(site.network, source);
  return point != nullptr && site::facts<site::Inverter>(site.element(source)) != nullptr &&
         !point->synchronised_at.empty();
}

}  // namespace linewright::check
