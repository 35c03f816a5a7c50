// One installation as plain values, everything expanded; never changed once it is built.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "findings/place.hpp"
#include "site/conductors.hpp"
#include "site/devices.hpp"
#include "site/loads.hpp"
#include "site/permit.hpp"
#include "site/sources.hpp"
#include "units/quantity.hpp"

namespace linewright::site {

// Names of terminals by kind of element:
//   Busbar "bar" · MainEarthingTerminal "pe" · Supply, Generator "out" · Inverter "ac", "backup",
//   "pv", "battery" (those it has) · Battery, PvArray "dc" · Device "1" and "2", a changeover
//   "common" and one a throw ("I", "II") · Bond "at" (its N and PE node) · PenSplit "1" (PEN) and
//   "2" (N and PE) · Electrode "pe" · Connector, Meter, Transformer "1" and "2" ·
//   SurgeProtector "1" · LoadGroup "in".

/// Index of nothing.
inline constexpr std::size_t none = static_cast<std::size_t>(-1);

/// A busbar or any other common point; terminal "bar".
struct Busbar {
  std::optional<Current> rated_current;
};

/// A conductor that bonds metalwork to the main earthing terminal.
struct BondingConductor {
  std::string to;  ///< in words: "water pipe"
  std::optional<Area> cross_section;
};

/// The main earthing terminal; terminal "pe". Exactly one a site.
struct MainEarthingTerminal {
  std::optional<Area> earthing_conductor;  ///< to its electrode
  std::vector<BondingConductor> bonding;   ///< in the order of the file
};

/// What an element is, with what the file says of it.
using Facts = std::variant<Busbar, MainEarthingTerminal, Supply, Generator, Inverter, Battery,
                           PvArray, Device, Bond, PenSplit, Electrode, Connector, Meter,
                           SurgeProtector, Transformer, LoadGroup>;

/// One piece of equipment.
struct Element {
  std::string designation;  ///< "-Q1"; unique on the site
  std::string name;         ///< the user's words, may be empty
  Place where;
  std::size_t assembly = none;
  Facts facts;
  Conductors conductors;               ///< those that pass through it or end in it
  std::vector<std::string> terminals;  ///< as the facts' comments name them
};

/// A terminal of an element.
struct Terminal {
  std::size_t element = none;
  std::size_t terminal = 0;  ///< index into Element::terminals
  friend bool operator==(const Terminal&, const Terminal&) = default;
};

/// The cable of a run. An internal joint of an assembly has none.
struct Cable {
  std::string written;  ///< as the user wrote it, without designation: "5×6 mm² Cu 18 m"
  std::optional<int> cores;
  std::optional<Area> cross_section;  ///< of one line conductor
  std::optional<Area> earth_cross_section;
  std::string material = "Cu";
  std::string insulation;        ///< "PVC", "XLPE" …, empty if not given
  std::optional<Length> length;  ///< one way
  std::string method;            ///< reference method of installation, empty if not given
  std::optional<bool> double_insulated;
  std::optional<Current> carries;  ///< continuously, as it is laid
  Conductors crossed;              ///< two lines that change places on the way; else empty
};

/// A cable or an internal joint between two terminals; joins conductors of the same name.
struct Run {
  std::string designation;  ///< "-W1"; empty for internal joints
  Place where;
  Terminal from;  ///< source side as drawn
  Terminal to;
  Conductors conductors;
  std::optional<Cable> cable;
};

/// An enclosure: transfer panel, board, combiner.
struct Assembly {
  enum class Kind { board, transfer_panel, combiner, converter };
  std::string designation;  ///< "+A1"
  std::string name;
  Place where;
  Kind kind = Kind::board;
  std::optional<Service> service;  ///< of its circuits, where they do not say
  std::optional<bool> insulating;  ///< enclosure of insulating material
  std::optional<bool> fire_risk;   ///< it stands where earth leakage could set fire, or beyond
  std::optional<bool> indicator;   ///< a lamp shows that it is alive
  std::string interior;            ///< ready-made interior it was expanded from, or empty
};

/// The mark that a conductor of a run has at its far end: another one where lines are crossed.
Conductor arrives_as(const Run& run, Conductor conductor);

/// The meaning of a state where the file or an interior gives it one of the five usual names.
enum class StateKind { grid, island, generator, bypass, off, other };

/// One device (or inner contact) put into a position by a state.
struct PositionOf {
  std::size_t element = none;
  std::string part;      ///< "" for the device itself, "transfer" or "bond" in an inverter
  std::string position;  ///< "closed", "open", "I", "0", "II"
  Place where;
};

/// A named operating state. What it does not mention stands at rest.
struct State {
  std::string name;
  Place where;
  StateKind kind = StateKind::other;
  std::vector<std::size_t> running;  ///< sources that run in it
  std::vector<PositionOf> positions;
};

/// How an interlock excludes positions.
enum class InterlockMeans { mechanical, key, electrical, control, unknown };

/// Positions that may not occur together.
struct Interlock {
  Place where;
  InterlockMeans means = InterlockMeans::unknown;
  std::vector<PositionOf> never_together;  ///< at most one of these at a time
};

/// Sources that are held in step with each other by equipment made for it.
struct SynchronisingSet {
  Place where;
  std::vector<std::size_t> sources;
  std::optional<bool> transfer_together;  ///< its inner transfer contacts open and close as one
};

/// A signal cable or bus and what stands on it, in order.
struct SignalLink {
  std::string designation;
  Place where;
  std::string kind;  ///< "RS-485", "dry contact" …
  std::string protocol;
  std::vector<std::string> devices;
  std::string master;
  std::vector<std::string> terminated_at;
  std::string on_loss;  ///< behaviour when it fails
};

enum class PaperSize { a4, a3 };
enum class PaperTurn { landscape, portrait };

/// The paper that the drawing is made for.
struct PaperFormat {
  PaperSize size = PaperSize::a3;
  PaperTurn turn = PaperTurn::landscape;

  friend bool operator==(const PaperFormat&, const PaperFormat&) = default;
};

/// How a size stands where nothing is said: A4 upright, A3 lying.
constexpr PaperTurn usual_turn(PaperSize size) {
  return size == PaperSize::a4 ? PaperTurn::portrait : PaperTurn::landscape;
}

/// What the title block says; empty means not given.
struct Title {
  std::string site_name;
  std::string owner;
  std::string site_address;
  std::string drawing_number;
  std::string date;  ///< ISO 8601 day
  std::string status;
  std::string creator;
  std::string approver;
  std::string language = "en";
  PaperFormat paper;
  struct Revision {
    std::string index, date, change, by, approved;
  };
  std::vector<Revision> revisions;  ///< oldest first
  std::vector<std::string> notes;
};

/// Voltages and conductors of the site's AC side.
struct System {
  int phases = 1;                        ///< 1 or 3
  std::optional<Voltage> line_to_earth;  ///< U0
  std::optional<Voltage> line_to_line;
  std::optional<Frequency> frequency;
  std::string written;  ///< "3/N/PE 230/400 V 50 Hz"
};

/// One installation. Indices into the vectors are stable; `elements` keeps the order of the file.
struct Site {
  Title title;
  Permit permit;
  std::string profile;  ///< as named in the file, empty if not
  Place profile_where;
  System system;
  std::vector<Assembly> assemblies;
  std::vector<Element> elements;
  std::vector<Run> runs;
  std::vector<State> states;
  std::vector<Interlock> interlocks;
  std::vector<SynchronisingSet> synchronising_sets;
  std::vector<SignalLink> signals;

  /// Index of the element with that designation, or `none`.
  std::size_t find(std::string_view designation) const;
  /// Index of the terminal of that name on an element, or `none`.
  std::size_t find_terminal(std::size_t element, std::string_view terminal) const;
};

/// The facts of an element if they are of kind T, else null.
template <class T>
const T* facts(const Element& element) {
  return std::get_if<T>(&element.facts);
}

}  // namespace linewright::site
