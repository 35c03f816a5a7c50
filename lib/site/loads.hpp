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

/// What a managed charge point does when it no longer hears from the meter.
enum class LossOfMeter { off, minimum, goes_on };

/// What a charge point does in island.
enum class IslandCharging { off, held_back, goes_on };

/// Whether a vehicle gives energy back, and to what.
enum class GivesBack {
  no,
  home,   ///< feeds the house when the grid is away
  grid,   ///< feeds in parallel with the grid
  socket  ///< has a socket-outlet of its own for single items
};

/// What a circuit for charging vehicles says beyond any other.
struct ChargePoint {
  std::optional<int> points;                ///< connecting points on this circuit
  std::optional<bool> each_protected;       ///< where there are several: each by its own device
  std::optional<bool> managed;              ///< held back by what a meter measures
  std::string meter;                        ///< managed: designation of that meter
  std::optional<LossOfMeter> on_loss;       ///< managed
  std::optional<IslandCharging> in_island;  ///< held back there: by its management, or to:
  std::optional<ActivePower> island_limit;
  std::optional<GivesBack> gives_back;
  std::string vehicle;                   ///< inverter that stands for the vehicle as a source
  std::optional<Length> reach;           ///< to the nearest metalwork on another earth
  std::optional<bool> electrode_clear;   ///< its electrode is clear of buried bonded metal
  std::optional<Voltage> touch_voltage;  ///< greatest at a broken PEN, measured or worked out
  std::optional<bool> limits_unbalance;  ///< changes phase or lowers its current
};

/// What a circuit that feeds a heat pump says beyond any other.
struct HeatPump {
  std::optional<ActivePower> heater;       ///< its electric back-up heater; zero: it has none
  std::optional<bool> heater_in_island;    ///< false: blocked there
  std::optional<bool> locked_in_island;    ///< it has a lock input that is wired and used
  std::string locked_by;                   ///< designation of what opens its lock input
  std::optional<bool> lock_rests_blocked;  ///< with the wire cut or without supply it is blocked
  std::optional<bool> phase_monitor;       ///< stops at a lost or reversed phase
  std::optional<bool> local_isolator;      ///< lockable, all live poles, in sight of the unit
};

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
  std::optional<Time> starts_after;  ///< held back so long after a transfer
  bool dwelling = true;              ///< false: outside dwellings
  std::optional<bool> second_earth;  ///< a second protective conductor leads to it
  std::optional<bool> fire_risk;     ///< where earth leakage could set fire
  std::optional<ChargePoint> charging;
  std::optional<HeatPump> heat_pump;
};

}  // namespace linewright::site
