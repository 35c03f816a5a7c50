// The second, plainer way to trace an earth fault: every closed joint is a resistor, and the
// currents are solved for. Shares nothing with the block tree that it checks.
#pragma once

#include <cstddef>
#include <map>
#include <vector>

#include "network/network.hpp"
#include "network/positions.hpp"

namespace linewright::tests {

/// Currents of one earth fault, in amperes, with an ideal 230 V source of 50 mΩ.
struct FaultCurrents {
  double at_fault = 0.0;                   ///< from the line into the protective conductor
  std::map<std::size_t, double> residual;  ///< by element: net current through its cores
};

/// A dead short from one line to PE at a load's terminal, fed by one source alone. Metal joints
/// are 10 mΩ, ways into the ground 20 Ω. Empty if the load has no such line or the source does
/// not feed it.
FaultCurrents fault_currents(const network::Network& network, const network::Positions& positions,
                             const network::SourcePoint& source, std::size_t load,
                             site::Conductor line);

}  // namespace linewright::tests
