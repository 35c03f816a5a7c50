// Inverters that may be fed through another inverter.
#pragma once

#include <cstddef>
#include <vector>

#include "network/network.hpp"
#include "site/site.hpp"

namespace linewright::network {

/// Inverters with a backup side whose grid side can be joined to the backup side of another one,
/// in some positions that no interlock forbids. Whether they pass on what that one passes on is
/// not worked out (positions.hpp lets a contact see sources outside inverters only), so that
/// nothing is impossible that has not been shown to be possible. Inverters of one synchronising
/// set stand side by side and are left out.
std::vector<std::size_t> inverters_behind_inverters(const Network& network, const site::Site& site);

}  // namespace linewright::network
