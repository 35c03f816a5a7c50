// The site as a graph of single conductors: every terminal is one node a conductor.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "site/site.hpp"

namespace linewright::network {

/// One conductor at one terminal. The general mass of earth is a node of its own.
struct Node {
  std::size_t element = site::none;  ///< `none` for the general mass of earth
  std::size_t terminal = 0;
  site::Conductor conductor = site::Conductor::pe;
};

/// What joins two nodes.
enum class EdgeKind {
  run,      ///< conductor of a cable or internal joint
  passage,  ///< through an element that does not break this conductor
  pole,     ///< through a pole that breaks it
  bond,     ///< neutral to earth; the supplier's own counts as one
  earth     ///< electrode to the general mass of earth
};

/// Something with a position of its own: a device, a bond contact, an inner contact of an inverter.
struct Switch {
  std::size_t element = site::none;
  std::string part;                    ///< "", "transfer" or "bond"
  std::vector<std::string> positions;  ///< "open" and "closed", or those of a changeover
  int rest = 0;                        ///< index into positions, or -1 if the file does not say
};

inline constexpr int fixed = -1;    ///< Edge::by of an edge that nothing moves
inline constexpr int unknown = -1;  ///< a position that the file does not give

/// A joint of two nodes, closed always or in some positions of one switch.
struct Edge {
  std::uint32_t a = 0;
  std::uint32_t b = 0;
  EdgeKind kind = EdgeKind::run;
  std::size_t element = site::none;  ///< the element it runs through, or `none` for runs
  std::size_t run = site::none;      ///< the run it belongs to, or `none`
  site::Conductor conductor = site::Conductor::pe;
  int by = fixed;                  ///< index into switches
  std::uint32_t closed_in = 1;     ///< bit i: closed in position i (bit 0 if fixed)
  std::uint32_t undecided_in = 0;  ///< bit i: the file does not say whether it is closed there
};

/// A source at the node group of one terminal.
struct SourcePoint {
  std::size_t element = site::none;
  std::size_t terminal = 0;
  bool utility = false;
  bool forming = true;  ///< can make a voltage alone
  /// Switches that it closes in step with the other side; none that a hand can close as well.
  std::vector<int> synchronised_at;
  int set = -1;  ///< synchronising set, -1: none
};

/// The conductor graph of a site.
struct Network {
  std::vector<Node> nodes;
  std::vector<Edge> edges;
  std::vector<Switch> switches;
  std::vector<SourcePoint> sources;
  std::uint32_t earth = 0;  ///< the general mass of earth

  /// Node of a conductor at a terminal, or `no_node`.
  std::uint32_t node(std::size_t element, std::size_t terminal, site::Conductor c) const;
  /// Neutral (or PEN) node of a terminal, or `no_node`.
  std::uint32_t neutral(std::size_t element, std::size_t terminal) const;
  /// Index of a switch, or -1.
  int find_switch(std::size_t element, std::string_view part = "") const;
  /// The edges through an element, runs left out; each switch moves edges of its own element only.
  std::span<const Edge> edges_of(std::size_t element) const;

  // Nodes, edges and switches of one element stand together; by element, and one entry more.
  std::vector<std::uint32_t> first_slot;    ///< into `slots`
  std::vector<std::uint32_t> first_edge;    ///< into `edges`
  std::vector<std::uint32_t> first_switch;  ///< into `switches`
  std::vector<std::uint32_t> slots;         ///< by terminal and conductor: the node, or `no_node`
};

inline constexpr std::uint32_t no_node = 0xffffffffU;

/// The conductors that a device breaks, as its poles say; `undecided` if the poles are not given.
struct Broken {
  site::Conductors opened;
  site::Conductors undecided;
};
Broken broken_by(const site::Element& device);

/// Builds the graph. Never fails: what the file does not say becomes an undecided edge.
Network build(const site::Site& site);

}  // namespace linewright::network
