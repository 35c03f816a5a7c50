// Which devices and cables lie between a source and any place, line and neutral apart.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "network/blocks.hpp"
#include "network/network.hpp"
#include "network/positions.hpp"

namespace linewright::network {

/// What a current can pass between a source and a place, over every simple way there is.
struct Passage {
  bool joined = false;
  std::vector<std::size_t> devices;         ///< elements on every way, from the source on
  std::vector<std::size_t> detour_devices;  ///< elements on some ways only
  std::vector<std::size_t> runs;            ///< runs on every way, from the source on
  std::vector<std::size_t> detour_runs;     ///< runs on some ways only

  /// Whether the device is on any of the ways.
  bool may_pass(std::size_t device) const;
};

/// All ways from one source over what is surely closed. The network and site must outlive it.
class WaysFrom {
 public:
  WaysFrom(const Network& network, const site::Site& site, const Positions& positions,
           const SourcePoint& source);

  /// Over the lines; a place with several lines is joined if one of them is.
  Passage lines_to(std::size_t element, std::size_t terminal) const;
  /// The same for one line alone.
  Passage line_to(std::size_t element, std::size_t terminal, site::Conductor line) const;
  /// Over N and PEN, without bonds, protective conductors and the ground.
  Passage neutral_to(std::size_t element, std::size_t terminal) const;

 private:
  void add(const Ways& ways, Passage& passage) const;

  const Network& network_;
  const site::Site& site_;
  std::vector<BlockTree> lines_;
  std::vector<BlockTree> neutral_;  ///< one, or none where the source has no neutral
};

/// The source point of an element, or null if it is no source.
const SourcePoint* source_point(const Network& network, std::size_t element);

}  // namespace linewright::network
