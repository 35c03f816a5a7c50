// A site in words: sources, boards, circuits, and how it runs.
#pragma once

#include <string>
#include <vector>

#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// Plain text, a line an element, in the order of the file; tables are aligned with spaces.
std::string summary(const site::Site& site, const network::Network& network,
                    const std::vector<network::StateView>& states);

}  // namespace linewright::documents
