// Where to open and lock so that nothing can reach a part of the site, whatever else is switched.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "network/movement.hpp"
#include "network/network.hpp"

namespace linewright::network {

/// A device that stands open and locked while someone works.
struct LockPoint {
  int by = 0;                          ///< its switch
  int position = 0;                    ///< where it stands open
  std::vector<std::size_t> holds_off;  ///< elements that would reach the part through it
  std::optional<bool> isolates;        ///< as declared, or as its kind is made for
  std::optional<bool> lockable;        ///< as declared
  bool by_hand = true;                 ///< a hand moves it, so that it can be locked
  bool sound() const { return isolates == true && lockable == true && by_hand; }
};

/// How a part of the site is made dead and kept so.
struct Isolation {
  std::vector<std::size_t> elements;    ///< to be dead on all terminals
  std::vector<LockPoint> locks;         ///< nearest ones, those that are sound preferred
  std::vector<std::size_t> stopped;     ///< indices into network.sources inside the dead part
  std::vector<std::size_t> stays_live;  ///< sources, batteries, PV with nothing between to open
  std::vector<bool> inside;             ///< by node: belongs to the dead part
};

/// Line and direct-current conductors are followed outwards from the elements over everything that
/// may be closed in any position; whoever reaches an inverter reaches all its sides. The search
/// ends at devices that isolate, can be locked and are moved by hand; only where a source is met
/// without one, the nearest other device that opens is taken.
Isolation isolation_of(const Network& network, const site::Site& site, const Movement& movement,
                       const std::vector<std::size_t>& elements);

}  // namespace linewright::network
