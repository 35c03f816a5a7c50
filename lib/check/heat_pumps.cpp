#include "check/heat_pumps.hpp"

#include <algorithm>

#include "check/breaker_trips.hpp"
#include "check/rcd_cover.hpp"

namespace linewright::check {

std::vector<HeatPumpCircuit> heat_pumps(const AnalysedSite& site) {
  std::vector<HeatPumpCircuit> all;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr || load->use != site::Use::heat_pump) continue;
    HeatPumpCircuit circuit{.element = e, .load = load};
    circuit.pump = load->heat_pump.value_or(site::HeatPump{});
    circuit.three_phase = (site.element(e).conductors & site::lines).count() == 3;
    for (const network::StateView& state : site.states)
      if (fed_off_grid(site, state, e)) circuit.off_grid.push_back(&state);
    all.push_back(std::move(circuit));
  }
  return all;
}

Subject at_circuit(const AnalysedSite& site, std::size_t load, const network::StateView* state) {
  for (const network::StateView& view : site.states)
    for (const network::Loop& loop : view.loops)
      if (loop.load == load) return site.about(circuit_device(loop), state);
  return site.about(load, state);
}

bool fed_off_grid(const AnalysedSite& site, const network::StateView& state, std::size_t load) {
  return std::ranges::any_of(state.loops, [&](const network::Loop& loop) {
    return loop.load == load && !supply_feeds(site, state, loop);
  });
}

}  // namespace linewright::check
