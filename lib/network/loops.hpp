// The earth-fault loops of one state, traced conductor by conductor.
#pragma once

#include <vector>

#include "network/state_view.hpp"

namespace linewright::network {

/// The loop of every load that is alive, from every source of `forming` (indices into
/// network.sources) that feeds it. Sorted by load, then by source, as the file has them.
std::vector<Loop> trace_loops(const Network& network, const site::Site& site,
                              const Positions& positions, const std::vector<std::size_t>& forming);

}  // namespace linewright::network
