// A situation on the way looked at as a whole: zones, loops, and the boards that are alive.
#pragma once

#include <string>
#include <vector>

#include "documents/procedure.hpp"
#include "network/movement.hpp"
#include "network/sequence.hpp"
#include "network/state_view.hpp"

namespace linewright::documents {

/// What every part of a procedure is written from; refers to site and network.
struct Grounds {
  const site::Site& site;
  const network::Network& network;
  const network::HazardScope& scope;
  network::Movement movement;

  network::SearchTask task() const {
    return {.network = network, .site = site, .movement = movement, .scope = scope};
  }
  const std::string& name(std::size_t element) const { return site.elements[element].designation; }
};

/// One situation, seen like a named state; the view has no state to name.
struct Moment {
  network::StateView view;
  network::Situation situation;
  LiveParts parts;
};

Moment look_at(const Grounds& grounds, const network::Situation& situation);

/// Whether a line of the terminal is alive; sources on the DC side do not count.
bool live_at(const Grounds& grounds, const Moment& moment, std::size_t element,
             std::size_t terminal);

/// "supply", "-T1 + -T2": the sources that form the voltage on a terminal's lines; empty if dead.
std::string fed_by(const Grounds& grounds, const Moment& moment, std::size_t element,
                   std::size_t terminal);

/// "-Q1:I"; the designation alone where there is one terminal.
std::string terminal_words(const site::Site& site, std::size_t element, std::size_t terminal);

/// Where a hand finds it: "in +A2 Transfer panel", outside every enclosure "between -E1 and -T1";
/// empty if nothing hangs on it.
std::string place_words(const site::Site& site, std::size_t element);

}  // namespace linewright::documents
