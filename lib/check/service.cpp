#include "check/service.hpp"

namespace linewright::check {

std::optional<site::Service> promised_service(const AnalysedSite& site, std::size_t load) {
  const site::Element& element = site.element(load);
  const auto* facts = site::facts<site::LoadGroup>(element);
  if (facts == nullptr) return std::nullopt;
  if (facts->service || element.assembly == site::none) return facts->service;
  return site.site.assemblies[element.assembly].service;
}

Subject about_circuits(const AnalysedSite& site, const network::StateView& state,
                       const std::vector<std::size_t>& loads) {
  const std::size_t board = site.element(loads.front()).assembly;
  if (loads.size() == 1 || board == site::none) return site.about(loads.front(), &state);
  const site::Assembly& it = site.site.assemblies[board];
  return {it.where, it.designation, state.name()};
}

}  // namespace linewright::check
