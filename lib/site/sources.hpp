// What can put voltage on a conductor, and what stores or makes its energy.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "site/conductors.hpp"
#include "units/quantity.hpp"

namespace linewright::site {

/// How the public supply is earthed. MEN (AU/NZ) is TN-C-S with the split at the main board.
enum class Earthing { tn_s, tn_c_s, tt, it };

/// As it is printed: "TN-S", "TN-C-S", "TT", "IT".
std::string_view mark(Earthing earthing);

/// What keeps watch over the insulation of a system without a joint of neutral and earth (IT).
enum class InsulationMonitor { none, without_alarm, with_alarm };

/// What a source says of running without a joint of neutral and earth.
struct Unearthed {
  std::optional<bool> on_purpose;  ///< it is meant to run so (IT)
  std::optional<InsulationMonitor> monitor;
  std::optional<Current> first_fault;  ///< current of a first fault to earth
};

/// The order in which the lines of a three-phase source reach their peaks.
enum class Rotation {
  clockwise,     ///< L1 L2 L3
  anticlockwise  ///< L1 L3 L2
};

/// The public supply at its point of connection.
struct Supply {
  std::optional<Earthing> earthing;
  std::optional<Current> fault_current_max;
  std::optional<Current> fault_current_min;
  std::optional<Resistance> external_loop;  ///< external earth-fault loop impedance
  std::optional<Current> service_fuse;      ///< rating of the distributor's own fuse
  std::string service_fuse_curve;           ///< "gG" …, empty if not given
  std::string meter_point;                  ///< the distributor's number, as written
  bool earth_offered = true;                ///< the supplier brings a PE or PEN
  Unearthed unearthed;                      ///< `on_purpose` follows from `earthing`
  std::optional<Rotation> rotation;
};

/// How a winding stands to earth by itself, before any link on site.
enum class Winding { line_neutral, centre_tapped };

/// What the neutral of a generator or inverter does at the machine.
enum class NeutralLink { none, fixed };

/// Whether a generator runs in step with the public supply.
enum class ParallelRun {
  never,
  short_transfer,  ///< for a moment, while it takes over
  as_agreed        ///< as the distributor agreed
};

/// A rotating generator.
struct Generator {
  std::string model;  ///< maker's name for it, as written
  std::optional<ApparentPower> power;
  std::optional<NeutralLink> neutral;  ///< its own neutral-earth link
  std::optional<Winding> winding;
  std::optional<bool> fixed;  ///< false: portable, plugged in
  std::optional<bool> own_rcd;
  std::optional<double> subtransient_reactance;  ///< X"d, per unit
  std::optional<Current> fault_current;          ///< least that it drives into a fault to earth …
  std::optional<Time> fault_time;                ///< … for this time
  std::string waveform;                          ///< "sine" …
  std::optional<bool> takes_power_back;          ///< declared fit to run in parallel with inverters
  std::optional<bool> reverse_power_relay;
  std::optional<Time> cool_down;
  std::string excitation;  ///< "self-excited", "permanent magnet" …
  std::optional<ParallelRun> parallel;
  Unearthed unearthed;
  std::optional<Rotation> rotation;
  bool lines_tied = false;  ///< one line of the machine is joined to L1, L2 and L3
};

/// How an inverter makes its voltage.
enum class Forming { grid_forming, grid_following };

/// What an inverter's internal contact does with the neutral towards the grid in island.
enum class IslandNeutral { opened, joined };

/// What an inverter's own neutral-earth contact does.
enum class BondContact {
  absent,            ///< there is none, or it is switched off in the settings
  closes_in_island,  ///< closed while it runs with its grid contact open
  always_closed,
  stays_open
};

/// Separation between the DC and the AC side.
enum class Separation { none, simple, transformer };

/// A limit at which a source leaves the grid, and within which time.
template <class Quantity>
struct TripSetting {
  std::optional<Quantity> at;
  std::optional<Time> within;
};

/// What takes a source off the grid when the grid is away or out of bounds.
struct InterfaceProtection {
  std::string certificate;  ///< of the type test, empty if not given
  TripSetting<Voltage> undervoltage;
  TripSetting<Voltage> overvoltage;
  TripSetting<Frequency> underfrequency;
  TripSetting<Frequency> overfrequency;
  std::optional<Time> island_detection;
  std::string island_method;  ///< how it detects an island, in words
  std::optional<Time> reconnects_after;
  std::optional<bool> external_relay;  ///< a relay and switch outside the source
};

/// How the direct current side of an inverter stands to earth.
enum class DcEarthing { floating, earthed };

/// A PV, battery or hybrid inverter. A port that the file does not use has no terminal.
struct Inverter {
  std::string model;               ///< maker's name for it, as written
  bool hybrid = false;             ///< PV and battery in one
  std::optional<Forming> forming;  ///< a hybrid with a backup side forms
  bool has_backup_side = false;    ///< ports `ac` and `backup` with a contact between them
  std::optional<ApparentPower> power;
  std::optional<ApparentPower> surge;  ///< for the time below
  std::optional<Time> surge_time;
  std::optional<Current> pass_through;   ///< rating of the internal contact
  std::optional<Current> fault_current;  ///< it drives in island
  std::optional<Time> fault_time;        ///< after which it shuts down
  std::optional<IslandNeutral> island_neutral;
  std::optional<BondContact> bond;
  std::optional<bool> bond_rests_closed;  ///< position of that contact without power
  std::optional<Separation> separation;
  std::optional<DcEarthing> dc_earthing;
  std::string declared_rcd_type;            ///< maker's statement, empty if not given
  std::string island_rcd_type;              ///< the same for RCDs that it feeds in island
  std::optional<Current> leakage;           ///< standing earth leakage
  std::optional<bool> no_dc_fault_current;  ///< maker declares none can reach the AC side
  std::optional<bool> zero_feed_to_generator;
  std::optional<bool> frequency_watt;  ///< lowers its power when frequency rises
  std::string grid_code;
  std::optional<InterfaceProtection> protection;
  std::optional<ApparentPower> ac_coupled;  ///< greatest power of PV inverters on its output
  std::optional<Rotation> rotation;
  bool lines_tied = false;                   ///< its one line is joined to L1, L2 and L3
  std::string waveform;                      ///< "sine" …
  std::vector<std::size_t> synchronises_at;  ///< switching elements outside it
  Unearthed unearthed;
};

/// A battery stack on the DC side of an inverter.
struct Battery {
  std::string model;         ///< maker's name for it, as written
  std::optional<int> units;  ///< housed apart, in this one stack
  std::optional<Energy> energy;
  std::optional<Voltage> nominal_voltage;
  std::optional<Voltage> voltage_min;
  std::optional<Voltage> voltage_max;
  std::optional<Current> discharge_current;
  std::optional<Current> charge_current;
  std::optional<Current> fault_current;
  std::string chemistry;
  std::optional<double> usable;  ///< share of the energy, 0..1
};

/// PV strings on one input of an inverter.
struct PvArray {
  std::string model;  ///< maker's name for its modules, as written
  std::optional<int> strings;
  std::optional<int> modules_per_string;
  std::optional<ActivePower> power;  ///< at standard test conditions
  std::optional<Voltage> module_open_voltage;
  std::optional<Current> module_short_current;
  std::optional<double> voltage_factor;    ///< relative change per kelvin, negative
  std::optional<Current> module_fuse_max;  ///< greatest series fuse of the module
  std::optional<Celsius> coldest;
};

}  // namespace linewright::site
