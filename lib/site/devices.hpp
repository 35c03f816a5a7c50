// What opens, closes, protects or joins conductors.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "site/conductors.hpp"
#include "units/quantity.hpp"

namespace linewright::site {

/// What kind of switching device it is by its construction.
enum class DeviceKind {
  breaker,
  rcd,   ///< residual-current device without overcurrent protection
  rcbo,  ///< breaker with residual-current protection
  fuse,
  switch_disconnector,
  disconnector,
  fuse_switch,
  contactor,
  changeover,
  link,  ///< tool-operated
};

struct Device;
/// Whether it opens by itself when too much current flows.
bool breaks_overcurrent(const Device& device);
/// Whether it opens by itself on a fault of any kind.
bool opens_by_itself(const Device& device);
/// Whether only a coil or motor under a controller can close it: a contactor unless the file says
/// otherwise. What a hand can close is closed without looking at the voltages on its two sides.
bool closed_by_controller_only(const Device& device);

/// Which conductors a device breaks: 1P, 1P+N, 2P, 3P, 3P+N, 4P.
struct Poles {
  int line_poles = 1;
  bool neutral = false;  ///< N is opened together with the lines
  std::string written;   ///< as the user wrote it
};

/// Residual-current types of IEC 60755 in rising order of what they see.
enum class ResidualType { ac, a, f, b };

/// Time behaviour of a residual-current device.
enum class ResidualDelay { general, selective };

/// What a device senses between its cores.
struct Residual {
  std::optional<Current> operating_current;  ///< rated residual operating current
  std::optional<ResidualType> type;
  std::optional<ResidualDelay> delay;    ///< not given: general by product standard
  std::optional<bool> dc_detection_6ma;  ///< with residual-direct-current detection that opens
};

enum class FeedDirection { one_way, two_way };

/// How the neutral pole of a switched neutral moves against the line poles.
enum class NeutralTiming { simultaneous, early_make_late_break, separate };

/// Who moves a device.
enum class Operation { hand, controller, both };

/// One position of a changeover and the throw terminal it joins to the common; empty for off.
struct Throw {
  std::string position;  ///< "I", "0", "II"
  std::string terminal;  ///< "I", "II", or empty
};

/// What equipment for overlapping transfer says of itself.
struct ClosedTransition {
  std::optional<bool> synchronism_check;    ///< compares both sides before it overlaps
  std::optional<Time> overlap;              ///< longest time that both sides are joined
  std::optional<bool> distributor_consent;  ///< of the distributor, to the short parallel run
};

/// How an automatic transfer chooses between its sources.
struct AutomaticTransfer {
  std::vector<std::string> priority;  ///< designations of sources, first choice first
  std::optional<Voltage> drops_out;   ///< it leaves a source below this
  std::optional<Voltage> picks_up;    ///< and takes it again above this
  std::optional<Time> returns_after;  ///< which must have lasted so long
};

/// A switching or protective device. Two-terminal devices have terminals "1" and "2" and the
/// positions "open" and "closed"; a changeover has "common" and one terminal a throw.
struct Device {
  DeviceKind kind = DeviceKind::switch_disconnector;
  std::optional<Poles> poles;
  std::optional<Current> rated_current;
  std::string curve;  ///< "B", "C", "D", "gG" …
  std::optional<Current> breaking_capacity;
  std::optional<Residual> residual;
  std::optional<FeedDirection> direction;
  std::string rest = "closed";  ///< position when no state mentions it
  std::optional<Operation> operation;
  std::optional<bool> latching;
  std::optional<bool> feedback;              ///< reports its real position
  std::optional<std::string> without_power;  ///< position without coil power
  std::optional<bool> isolates;
  std::optional<bool> lockable;
  std::string category;  ///< utilisation category, "AC-33"
  std::optional<NeutralTiming> neutral_timing;
  std::optional<bool> break_before_make;  ///< changeovers
  std::optional<ClosedTransition> closed_transition;
  std::optional<AutomaticTransfer> automatic;
  std::optional<Current> withstand;  ///< short-circuit current it stands behind its fuse or breaker
  std::vector<Throw> throws;         ///< changeovers; empty otherwise
  std::string driven_by;             ///< designation of what drives its coil
};

/// A joint of neutral and earth made on site, at the place its terminal "at" is joined to.
struct Bond {
  bool contact = false;                ///< has a position of its own
  std::optional<std::string> rest;     ///< position without power: "open" or "closed"
  std::vector<std::string> closed_in;  ///< names of states in which it is closed
  std::optional<std::vector<std::size_t>> proved_by;  ///< contacts proved open before it closes
  std::string driven_by;
  std::optional<Time> closes_within;  ///< after the contacts that prove it have opened
  std::optional<Area> cross_section;
  std::optional<Current> withstand;    ///< short-time current that it carries …
  std::optional<Time> withstand_time;  ///< … for this time
  std::optional<bool> power_contact;   ///< false: a signal contact, made for a coil
};

/// The place where a PEN is divided into N and PE; terminals "1" (PEN) and "2" (N and PE).
struct PenSplit {};

/// An earth electrode joined to the main earthing terminal.
struct Electrode {
  std::optional<Resistance> resistance;
  std::string type;                    ///< in words: "rod, 2 × 2.5 m"; may be empty
  std::optional<Resistance> measured;  ///< on site
};

/// A plug connector for a portable source. Pins recessed: an inlet; else a socket-outlet.
struct Connector {
  bool inlet = true;
  std::optional<Current> rated_current;
};

/// A meter or measuring transformer in the path.
struct Meter {
  bool two_way = false;
  std::string guards;                ///< what relies on it, in words
  std::string current_transformers;  ///< ratio, phases, direction, in words; empty: it has none
};

/// A surge protective device.
struct SurgeProtector {
  std::string type;  ///< "T1", "T2", "T1+T2"
  std::string form;
  std::optional<Voltage> continuous_voltage;
  std::optional<Current> backup_fuse;
  std::optional<Length> lead_length;
};

/// An isolating transformer; conductors do not pass, terminals "1" and "2".
struct Transformer {
  std::optional<ApparentPower> power;
};

}  // namespace linewright::site
