#include "check/unearthed.hpp"

#include <algorithm>

namespace linewright::check {
namespace {

bool has_no_joint(const network::Zone& zone) {
  return zone.bonds.empty() && zone.undecided_bonds.empty();
}

}  // namespace

const site::Unearthed* unearthed(const AnalysedSite& site, std::size_t source) {
  const site::Element& element = site.element(source);
  if (const auto* supply = site::facts<site::Supply>(element)) return &supply->unearthed;
  if (const auto* set = site::facts<site::Generator>(element)) return &set->unearthed;
  if (const auto* inverter = site::facts<site::Inverter>(element)) return &inverter->unearthed;
  return nullptr;
}

bool runs_as_it(const AnalysedSite& site, const network::Zone& zone) {
  if (zone.sources.empty() || !has_no_joint(zone)) return false;
  return std::ranges::all_of(zone.sources, [&](std::size_t source) {
    if (const auto* supply = site::facts<site::Supply>(site.element(source)))
      return supply->earthing == site::Earthing::it;
    const site::Unearthed* facts = unearthed(site, source);
    return facts != nullptr && facts->on_purpose == true;
  });
}

bool meant_for_items(const AnalysedSite& site, const network::StateView& state,
                     const network::Zone& zone) {
  if (!has_no_joint(zone)) return false;
  return std::ranges::any_of(loads_of(state, zone), [&](std::size_t load) {
    const auto* group = site::facts<site::LoadGroup>(site.element(load));
    return group != nullptr && group->use == site::Use::separated;
  });
}

}  // namespace linewright::check
