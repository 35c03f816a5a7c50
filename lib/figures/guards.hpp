// Which devices keep a cable from carrying too much for long.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "figures/figure.hpp"
#include "network/network.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::figures {

/// Devices and limited sources that together bound the current of a cable from one of its ends.
struct Guards {
  std::vector<std::size_t> elements;  ///< in the order of the file
  std::optional<Current> rated;       ///< sum of what they let through for ever
  std::optional<Current> operates;    ///< sum of the currents at which they surely open
  std::vector<Missing> missing;
  std::string why_not;  ///< set: nothing bounds it
};

/// The edges at every node of a network, by index.
using EdgesAt = std::vector<std::vector<std::uint32_t>>;
EdgesAt edges_at(const network::Network& network);

/// Where guards are looked for.
struct GuardScope {
  const site::Site& site;
  const network::Network& network;
  const EdgesAt& edges;
  const network::StateView& view;
};

/// The guards of a cable in a state: at the end where current enters, all that can flow in; at the
/// other end, all that can flow out; the lower of the two, but devices before sources. `enters` is
/// the terminal of the first.
Guards guards_of(const GuardScope& scope, std::size_t run, site::Terminal enters);

}  // namespace linewright::figures
