// What lies between sources that run joined: the devices that energy can pass in both directions.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"
#include "network/ways.hpp"

namespace linewright::check {

/// The ways over the lines from a source that forms the voltage to another that runs joined to it.
struct SourceWay {
  const network::StateView* state = nullptr;
  std::size_t from = site::none;
  std::size_t to = site::none;
  bool follows = false;  ///< `to` follows the voltage: it runs in parallel
  network::Passage lines;
};

/// Every pair of joined sources, in every state.
std::vector<SourceWay> ways_between_sources(const AnalysedSite& site);

/// The running sources that would hold terminal "2" of a two-terminal device live once it opened.
std::vector<std::size_t> sources_below(const AnalysedSite& site, const network::StateView& state,
                                       std::size_t device);

/// A source that runs in parallel on the load side of a residual-current device.
struct SourceBehindRcd {
  const network::StateView* state = nullptr;
  std::size_t from = site::none;  ///< the source that forms the voltage
  std::size_t source = site::none;
  std::size_t rcd = site::none;
};

/// Every parallel source behind every residual-current device, in every state.
std::vector<SourceBehindRcd> sources_behind_rcds(const AnalysedSite& site);

/// Whether a circuit has that device as its last RCD towards that source in that state, so that
/// nothing but it would clear an earth fault of the circuit in time.
bool last_rcd_of(const network::Loop& loop, std::size_t rcd);

/// The circuits that rely on an RCD which also has this parallel source on its load side, although
/// the source does not feed them by itself in any state. Empty where the device is not shared.
std::vector<std::size_t> circuits_sharing(const AnalysedSite& site, const SourceBehindRcd& behind);

}  // namespace linewright::check
