// The way from one named state to another, step by step, with what contacts do on their way.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "network/hazards.hpp"
#include "network/movement.hpp"
#include "network/network.hpp"

namespace linewright::network {

/// What sets a transition going.
enum class Event {
  ordered,  ///< somebody or some controller wants the other state
  supply_fails,
  supply_returns,
  generator_starts,
  rcd_trips,          ///< an RCD between the supply and an inverter opens; the supply stays alive
  control_power_lost  ///< every coil drops out
};

/// What the contacts do at a step.
enum class StepKind {
  stands,         ///< every contact stands in a position
  parted,         ///< a changeover between two throws, all of them open
  overlap,        ///< a changeover between two throws, both of them closed
  overlap_maybe,  ///< the same where the file does not say whether it breaks before it makes
  neutral_alone,  ///< the neutral pole closed, the line poles open
  lines_alone,    ///< the line poles closed, the neutral pole open
  link_late       ///< a neutral-earth link has not followed yet what was moved
};

/// One moment of a transition.
struct Step {
  StepKind kind = StepKind::stands;
  Move move;      ///< what is being done or happens
  int link = -1;  ///< link_late: switch of the link
  Situation situation;
};

/// A way from a named state. Steps come in the order of time; the first is the state itself.
struct Transition {
  Event event = Event::ordered;
  std::size_t from = 0;          ///< index into Site::states
  std::size_t to = site::none;   ///< the same; `none` where no named state is the end
  std::size_t rcd = site::none;  ///< rcd_trips: the element
  std::vector<Step> steps;
};

/// The network with further positions of switches, behind their own, for contacts on their way.
/// Nodes, edges and switches keep their indices.
struct MotionNetwork {
  Network network;
  std::vector<std::vector<std::uint32_t>> overlaps;  ///< by switch: pairs of positions, as bits
  std::vector<int> first_neutral_alone;              ///< by switch; one a position of its own
  std::vector<int> first_lines_alone;                ///< the same
  std::vector<int> first_overlap;                    ///< the same, one an entry of `overlaps`
  std::vector<int> parted;                           ///< by switch
};

/// Adds the positions of contacts on their way.
MotionNetwork with_motion(const Network& network, const site::Site& site);

/// The steps between every two named states, both ways, then every RCD trip and the loss of
/// control power from every state. Order within a transition: the supply fails or returns, and
/// generators start, whatever else happens; then inverters stop, devices open, devices close,
/// inverters start; generators stop last. A link opens before a device closes if an interlock by
/// lever, key or wiring keeps the two apart, else after it. Inner contacts of an inverter open
/// before, and close after, what they go with.
std::vector<Transition> transitions(const MotionNetwork& motion, const site::Site& site);

/// "while '-Q1' goes from I to II", "before '-X5' has followed".
std::string words_of(const MotionNetwork& motion, const site::Site& site, const Step& step);

/// "from 'grid' to 'island'", "when '-F1' trips in 'grid'", "when control power is lost in 'grid'".
std::string words_of(const site::Site& site, const Transition& transition);

}  // namespace linewright::network
