// Which switch positions join two points of the network, and what keeps them from occurring.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <vector>

#include "network/network.hpp"
#include "network/positions.hpp"
#include "network/state_view.hpp"

namespace linewright::network {

/// One switch in one position; both are indices.
struct SwitchAt {
  int by = 0;
  int position = 0;
  friend auto operator<=>(const SwitchAt&, const SwitchAt&) = default;
};

/// How a search treats one switch.
enum class Treat {
  as_closed,  ///< closed without being mentioned: it may be closed, and nobody minds
  as_it_may,  ///< in any of its positions, one at a time; the answer names it
  as_open,    ///< never closed
  bridged     ///< all its positions at once, as while the contacts of a changeover overlap
};

/// Every least set of positions that joins two points; `complete` is false if the search was cut
/// short, and then the absence of a way proves nothing.
struct WaysToJoin {
  std::vector<std::vector<SwitchAt>> ways;  ///< fewest switches first
  bool complete = true;
};

/// WaysToJoin to make one of `from` and one of `to` a single conductor, `treat` by switch.
/// Protective devices and everything else that rests closed may simply be closed.
WaysToJoin ways_to_join(const Network& network, const std::vector<std::uint32_t>& from,
                        const std::vector<std::uint32_t>& to, const std::vector<Treat>& treat);

/// How each switch is treated where two sources must not meet: changeovers, contacts that rest
/// open, inner contacts, and whatever an interlock names may stand as they may; the rest is closed.
std::vector<Treat> usual_treatment(const Network& network, const site::Site& site);

/// The contacts that either source, or another source of its set, closes in step.
std::set<int> contacts_in_step(const Network& network, std::size_t source_a, std::size_t source_b);

/// Line nodes of a source (index into network.sources).
std::vector<std::uint32_t> line_nodes(const Network& network, std::size_t source);
/// Line nodes of a terminal.
std::vector<std::uint32_t> line_nodes(const Network& network, std::size_t element,
                                      std::size_t terminal);

/// Whether a node of one list is one conductor with a node of the other in this state, for sure.
bool any_joined(const StateView& state, const std::vector<std::uint32_t>& some,
                const std::vector<std::uint32_t>& others);
/// The same, with everything undecided taken as closed.
bool any_possibly_joined(const StateView& state, const std::vector<std::uint32_t>& some,
                         const std::vector<std::uint32_t>& others);

/// The strongest interlock that forbids these positions together, or null. Mechanical and key ones
/// are stronger than electrical ones, those stronger than control, and unknown means are weakest.
const site::Interlock* excluded_by(const Network& network, const site::Site& site,
                                   const std::vector<SwitchAt>& together);

/// Whether a line of one source is joined to a line of the other in these positions, not through
/// contacts that one of them closes in step. It does not matter whether they run.
bool joined_out_of_step(const Network& network, const Positions& positions, std::size_t source_a,
                        std::size_t source_b);

/// The same positions with those contacts open, as far as they have an open or off position.
Positions with_open(const Network& network, Positions positions, const std::set<int>& contacts);

/// Whether a line of one source is joined to a line of the other in these positions.
bool lines_joined(const Network& network, const Positions& positions, std::size_t source_a,
                  std::size_t source_b);

/// Index into network.sources of the source that is this element, or `none`.
std::size_t source_of(const Network& network, std::size_t element);

}  // namespace linewright::network
