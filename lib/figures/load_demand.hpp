// What a circuit's load draws in a state, line by line.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "figures/figure.hpp"
#include "site/site.hpp"

namespace linewright::figures {

/// The power that counts for one load, or what is missing for it.
struct LoadDemand {
  ActivePower power;     ///< of all its lines together, diversity counted
  double cos_phi = 1.0;  ///< lagging
  std::string working;   ///< "1.5 kW × 0.6 at power factor 1"
  std::vector<Missing> missing;
};

/// "-E3 Water pump": how a figure names an element.
std::string called(const site::Element& element);

/// What the load draws when all that is declared runs. A load that is shed, or held off, in island
/// draws nothing there. Diversity that is not declared is 1. A power factor that is not declared
/// is 1 too, but for motors and heat pumps, which must say it.
LoadDemand load_demand(const site::Element& load, site::StateKind kind);

}  // namespace linewright::figures
