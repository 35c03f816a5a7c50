// Every figure of a site, in each of its states.
#pragma once

#include <vector>

#include "figures/figure.hpp"
#include "network/network.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::figures {

/// In the order of the states; within one, of the elements and then of the cables of the file.
std::vector<Figure> figures_of(const site::Site& site, const network::Network& network,
                               const std::vector<network::StateView>& states);

}  // namespace linewright::figures
