// Where every switch of the network stands in a named operating state.
#pragma once

#include <string>
#include <vector>

#include "network/network.hpp"

namespace linewright::network {

/// A position for every switch, by index; `unknown` where the file does not say.
struct Positions {
  std::vector<int> of;
};

/// Three-valued: an edge is closed, open, or the file does not say.
enum class Closed { no, yes, undecided };

/// How an edge stands in these positions.
Closed closed(const Edge& edge, const Positions& positions);

/// The positions of a named state. What the state does not mention stands at rest; the inner
/// contacts of an inverter follow their rule: its transfer contact is closed while the inverter
/// runs and its grid side is alive from another source; its neutral-earth contact is closed while
/// it runs with its grid contact open (or, without one, while no other source is joined to it),
/// and at rest while it does not run; the transfer contacts of a set that transfers together close
/// only if those of all its running inverters may. Links that are `closed in` a state are closed
/// there and nowhere else; one that names no state is closed while all contacts that prove it stand
/// open and the source that drives it runs, and at rest while that source does not run.
Positions positions_of(const Network& network, const site::Site& site, const site::State& state);

/// Whether no conductor passes in this position: "open", or a throw of a changeover with no
/// terminal.
bool is_open_position(const Network& network, int by, int position);

/// Whether a line of the source is one conductor with another that runs, makes a voltage of its own
/// and is not of its set. `component` as `components` gives it; `running` are elements.
bool in_company(const Network& network, const std::vector<std::uint32_t>& component,
                const std::vector<std::size_t>& running, const SourcePoint& source);

/// The switch of a device, or the transfer contact of an inverter, or -1.
int proving_switch(const Network& network, std::size_t element);

/// Puts the inner contacts of inverters (transfer and neutral-earth) and links where they stand by
/// the rule above while these elements run; those that are `held`, by switch, stay where they are.
void follow_inner_laws(const Network& network, const site::Site& site,
                       const std::vector<std::size_t>& running, const std::vector<bool>& held,
                       Positions& positions);

/// Component of every node over the edges that are closed; bonds and earth electrodes left out, so
/// that each component is one electrical conductor. `undecided_too`: also over undecided edges.
std::vector<std::uint32_t> components(const Network& network, const Positions& positions,
                                      bool undecided_too);

/// Whether two sources of the network may run joined in these positions, since each joint of the
/// two is a contact that one of them closes in step with the other, or both are in one set.
bool in_step(const Network& network, const Positions& positions, std::size_t source_a,
             std::size_t source_b);

}  // namespace linewright::network
