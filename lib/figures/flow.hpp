// Currents and voltages of every conductor in one state, by Kirchhoff's laws over the network.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "electrical/phasor.hpp"
#include "figures/figure.hpp"
#include "network/network.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::figures {

/// What runs: every load as declared and no source that follows; or those sources and no load.
enum class Case { demand, feed };

/// The currents of one state. Loads draw what they draw at nominal voltage. The first source that
/// forms a voltage holds it; others in step with it share its load by their power. Contacts and
/// inner joints count as 1 micro-ohm, so that ways side by side share.
struct Flow {
  std::vector<electrical::VoltagePhasor> voltage;      ///< by node of the network
  std::vector<electrical::CurrentPhasor> current;      ///< by edge, from `a` to `b`
  std::vector<Missing> missing;                        ///< everything that the file lacks for it
  std::vector<std::vector<std::size_t>> open_voltage;  ///< by node: which of these change it
  std::vector<std::vector<std::size_t>> open_current;  ///< by edge: the same
  std::vector<std::uint32_t> held_by;  ///< by node: the node whose voltage is held for it
  std::string why_not;                 ///< set: nothing was worked out
};

Flow flow(const site::Site& site, const network::Network& network, const network::StateView& view,
          Case what);

}  // namespace linewright::figures
