// What may be alive behind elements that the network does not follow.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "network/network.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::network {

/// Finds what lies behind transformers, and behind inverters that another inverter may feed: with
/// one side alive the other may be, though no source is seen to reach it. Never called dead.
class Beyond {
 public:
  Beyond(const Network& network, const site::Site& site);

  /// By component of `StateView::possible_component`, what may be alive so in this state.
  std::vector<bool> perhaps_alive(const StateView& view) const;

 private:
  const Network& network_;
  std::vector<std::vector<std::uint32_t>> lines_;  ///< of all terminals, by element not followed
};

/// Whether one of the nodes lies in a marked component.
bool any_marked(const StateView& view, const std::vector<bool>& marked,
                const std::vector<std::uint32_t>& nodes);

}  // namespace linewright::network
