#include "network/cascade.hpp"

#include <algorithm>

#include "network/joining.hpp"

namespace linewright::network {
namespace {

bool has_transfer(const Network& network, const SourcePoint& source) {
  return network.find_switch(source.element, "transfer") >= 0;
}

bool can_be_joined(const Network& network, const site::Site& site, const SourcePoint& upper,
                   const SourcePoint& lower, const std::vector<Treat>& treat) {
  const std::size_t ac = site.find_terminal(lower.element, "ac");
  const WaysToJoin found = ways_to_join(network, line_nodes(network, upper.element, upper.terminal),
                                        line_nodes(network, lower.element, ac), treat);
  return !found.complete || std::ranges::any_of(found.ways, [&](const auto& way) {
    return excluded_by(network, site, way) == nullptr;
  });
}

}  // namespace

std::vector<std::size_t> inverters_behind_inverters(const Network& network,
                                                    const site::Site& site) {
  std::vector<std::size_t> behind;
  const auto several = std::ranges::count_if(
      network.sources, [&](const SourcePoint& it) { return has_transfer(network, it); });
  if (several < 2) return behind;
  std::vector<Treat> treat = usual_treatment(network, site);
  for (std::size_t s = 0; s < network.switches.size(); ++s)
    if (network.switches[s].part == "transfer") treat[s] = Treat::as_open;
  for (const SourcePoint& lower : network.sources) {
    if (!has_transfer(network, lower)) continue;
    const bool found = std::ranges::any_of(network.sources, [&](const SourcePoint& upper) {
      const bool one_set = upper.set >= 0 && upper.set == lower.set;
      return upper.element != lower.element && !one_set && has_transfer(network, upper) &&
             can_be_joined(network, site, upper, lower, treat);
    });
    if (found) behind.push_back(lower.element);
  }
  return behind;
}

}  // namespace linewright::network
