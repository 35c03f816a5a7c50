// One operating state looked at: what is alive, where neutral meets earth, who sees a fault.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "network/blocks.hpp"
#include "network/network.hpp"
#include "network/positions.hpp"

namespace linewright::network {

/// A joint of neutral and earth in force.
struct BondPoint {
  std::size_t element = site::none;
  Place where;
  bool suppliers = false;  ///< the supplier's own: at the supply, or a PEN split in its path
  bool fixed = false;      ///< no contact moves it
};

/// Everything alive from sources that share one neutral, or one line where there is no neutral.
struct Zone {
  std::vector<std::size_t> sources;    ///< elements: running sources that form its voltage
  std::vector<std::size_t> following;  ///< elements: running sources that follow it
  std::vector<BondPoint> bonds;        ///< closed for sure
  std::vector<BondPoint> undecided_bonds;
  bool has_neutral = false;
  bool supply_neutral = false;            ///< the supply's N or PEN is joined to it
  bool supply_neutral_undecided = false;  ///< joined only over what the file leaves open
  bool supply_lines = false;              ///< a line of the supply is joined to it
};

/// How an earth-fault current comes home.
enum class ReturnPath {
  none,          ///< not at all: nothing disconnects
  metallic,      ///< over protective conductors and a bond (TN)
  through_earth  ///< over electrodes (TT)
};

/// A residual-current device that every line path of a loop passes.
struct RcdOnLoop {
  std::size_t element = site::none;
  bool sees = false;     ///< the fault current passes once and does not come back through it
  bool blinded = false;  ///< it comes back through it, wholly or in part
};

/// The earth-fault loop of one load from one source that forms the voltage, in one state.
/// Line guards are devices that every line path from the source passes, from the source down;
/// a device that only some paths pass is in `line_detours`.
struct Loop {
  std::size_t load = site::none;
  std::size_t source = site::none;
  std::vector<std::size_t> line_guards;
  std::vector<std::size_t> line_detours;
  std::vector<std::size_t> neutral_guards;
  std::vector<std::size_t> neutral_detours;
  bool neutral_joined = false;  ///< the load's N reaches the source's N (or it has no N)
  ReturnPath return_path = ReturnPath::none;
  ReturnPath possible_return = ReturnPath::none;  ///< with everything undecided taken as closed
  std::vector<std::size_t> bonds;                 ///< bonds on the way home
  std::vector<std::size_t> electrodes;            ///< electrodes on the way home
  std::vector<RcdOnLoop> rcds;                    ///< from the source down
};

/// Two running sources that meet out of step.
struct Clash {
  std::size_t source_a = site::none;
  std::size_t source_b = site::none;
};

/// A running source's side of the supply while the supply itself does not run.
struct Backfeed {
  std::size_t source = site::none;
  bool lines = false;    ///< a line of the supply is alive
  bool neutral = false;  ///< only the neutral is joined
};

/// One named state with everything the rules ask of it.
struct StateView {
  const site::State* state = nullptr;
  Positions positions;
  std::vector<std::uint32_t> component;           ///< by node; over closed edges
  std::vector<std::uint32_t> possible_component;  ///< also over undecided edges
  std::vector<Zone> zones;
  std::vector<Loop> loops;               ///< by load in file order, then by source
  std::vector<std::size_t> alive_loads;  ///< elements, in ascending order
  std::vector<Clash> clashes;
  std::vector<Backfeed> backfeeds;
  bool supply_runs = false;

  const std::string& name() const { return state->name; }
  /// Whether the load group is alive in this state.
  bool feeds(std::size_t load) const { return std::ranges::binary_search(alive_loads, load); }
  /// Whether two nodes are one conductor in this state, for sure.
  bool joined(std::uint32_t a, std::uint32_t b) const {
    return a != no_node && b != no_node && component[a] == component[b];
  }
  /// The same, with everything undecided taken as closed.
  bool possibly_joined(std::uint32_t a, std::uint32_t b) const {
    return a != no_node && b != no_node && possible_component[a] == possible_component[b];
  }
  /// The zone that a running source belongs to, or null.
  const Zone* zone_of(std::size_t source) const;
};

/// Looks at one named state. The site and network must outlive the view.
StateView view(const Network& network, const site::Site& site, const site::State& state);

/// Whether any line (or the neutral) of a terminal is alive: joined to a source that forms.
bool alive(const Network& network, const StateView& view, std::size_t element,
           std::size_t terminal);

}  // namespace linewright::network
