#include "check/separated.hpp"

#include <algorithm>

namespace linewright::check {

std::vector<std::size_t> loads_of(const network::StateView& state, const network::Zone& zone) {
  std::vector<std::size_t> loads;
  for (const network::Loop& loop : state.loops)
    if (std::ranges::count(zone.sources, loop.source) > 0 &&
        std::ranges::count(loads, loop.load) == 0)
      loads.push_back(loop.load);
  return loads;
}

Separated separated(const AnalysedSite& site, const network::StateView& state,
                    const network::Zone& zone) {
  const auto loads = loads_of(state, zone);
  if (loads.empty()) return Separated::no;
  bool missing = false;
  int items = 0;
  bool earthed_case = false;
  for (const std::size_t e : loads) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load->use != site::Use::separated) return Separated::no;
    if (!load->items || !load->class_two) missing = true;
    items += load->items.value_or(1);
    if (!load->class_two.value_or(true)) earthed_case = true;
  }
  if (items > 1 || earthed_case) return Separated::too_many;
  return missing ? Separated::undecided : Separated::yes;
}

}  // namespace linewright::check
