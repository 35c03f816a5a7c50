#include "network/beyond.hpp"

#include <algorithm>

#include "network/joining.hpp"
#include "network/proof.hpp"

namespace linewright::network {

Beyond::Beyond(const Network& network, const site::Site& site) : network_(network) {
  for (const std::size_t element : not_followed(network, site)) {
    std::vector<std::uint32_t> lines;
    for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t) {
      const auto here = line_nodes(network, element, t);
      lines.insert(lines.end(), here.begin(), here.end());
    }
    lines_.push_back(std::move(lines));
  }
}

std::vector<bool> Beyond::perhaps_alive(const StateView& view) const {
  std::vector<bool> perhaps(view.possible_component.size(), false);
  if (lines_.empty()) return perhaps;
  std::vector<bool> alive = perhaps;
  for (const Zone& zone : view.zones)
    for (const std::size_t source : zone.sources)
      for (const std::uint32_t node : line_nodes(network_, source_of(network_, source)))
        alive[view.possible_component[node]] = true;
  for (bool grown = true; grown;) {
    grown = false;
    for (const auto& lines : lines_) {
      if (!any_marked(view, alive, lines)) continue;
      for (const std::uint32_t node : lines) {
        const std::uint32_t component = view.possible_component[node];
        if (alive[component]) continue;
        alive[component] = perhaps[component] = grown = true;
      }
    }
  }
  return perhaps;
}

bool any_marked(const StateView& view, const std::vector<bool>& marked,
                const std::vector<std::uint32_t>& nodes) {
  return std::ranges::any_of(
      nodes, [&](std::uint32_t node) { return marked[view.possible_component[node]]; });
}

}  // namespace linewright::network
