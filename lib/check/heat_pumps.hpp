// The heat pumps of a site, asked alike by the rules about them.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// A heat pump's circuit. What it does not say of itself stands unset.
struct HeatPumpCircuit {
  std::size_t element = site::none;
  const site::LoadGroup* load = nullptr;
  site::HeatPump pump;
  bool three_phase = false;
  std::vector<const network::StateView*> off_grid;  ///< states that feed it without the supply
};

/// Every circuit that feeds a heat pump, in the order of the file.
std::vector<HeatPumpCircuit> heat_pumps(const AnalysedSite& site);

/// Where verdicts about its circuit stand: the last device of it, or the load itself.
Subject at_circuit(const AnalysedSite& site, std::size_t load,
                   const network::StateView* state = nullptr);

/// Whether the load is alive in that state without the supply having a part in it.
bool fed_off_grid(const AnalysedSite& site, const network::StateView& state, std::size_t load);

}  // namespace linewright::check
