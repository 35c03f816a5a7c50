// Load groups: circuits behind a common protective device.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "site/conductors.hpp"
#include "site/devices.hpp"
#include "units/quantity.hpp"

namespace linewright::site {

/// What is promised to a circuit when the grid fails.
enum class Service { backup, normal, direct };

/// What hangs on a circuit; decides which protection the profile asks for.
enum class Use {
  unknown,
  sockets,
  lighting,
  fixed,     ///< fixed equipment indoors
  outdoors,  ///< sockets or mobile equipment outdoors
  bathroom,
  ev,
  heat_pump,
  cooking,
  motor,
  network,    ///< communication equipment with fixed wiring
  separated,  ///< one item fed by a separated source (protection by separation)
};

/// What an EV charge point does when the PEN breaks.
enum class PenDetection { none, opens_live, opens_live_and_earth };

/// A final circuit and what it feeds.
struct LoadGroup {
  std::optional<Service> service;
  Use use = Use::unknown;
  std::optional<ActivePower> power;
  std::optional<double> power_factor;
  std::optional<double> diversity;
  std::optional<double> start_factor;             ///< starting over running current
  std::optional<bool> drive;                      ///< fed through a frequency converter
  std::optional<ResidualType> declared_rcd_type;  ///< maker's statement
  std::optional<Current> dc_leakage;              ///< greatest smooth DC residual current
  std::optional<Current> leakage;                 ///< standing earth leakage
  std::optional<bool> outdoors;
  std::optional<bool> dc_detection_6ma;  ///< inside the charge point
  std::optional<PenDetection> pen_detection;
  std::optional<bool> own_electrode;
  std::optional<int> items;       ///< separated sources: how many items
  std::optional<bool> class_two;  ///< double insulated
  std::string priority;           ///< "must", "should", "may"
  bool shed_in_island = false;
  bool dwelling = true;  ///< false: outside dwellings
};

}  // namespace linewright::site
