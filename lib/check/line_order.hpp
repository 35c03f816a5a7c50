// In which order the lines of a source arrive at a three-phase load.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// How the three lines of one source arrive at one load in one state.
struct Arrival {
  const network::StateView* state = nullptr;
  std::size_t source = site::none;
  std::size_t load = site::none;
  bool names_kept = true;     ///< each arrives under its own name
  bool order_turned = false;  ///< two have changed places on the way: the other rotation
};

/// Every source that forms the voltage of a load with three lines, in every state.
std::vector<Arrival> arrivals(const AnalysedSite& site);

/// The rotation of a source. An inverter that closes in step with another source and says nothing
/// follows it; none is returned for it.
std::optional<site::Rotation> rotation_of(const AnalysedSite& site, std::size_t source);

/// Whether an inverter closes in step with some other source.
bool follows_a_grid(const AnalysedSite& site, std::size_t source);

}  // namespace linewright::check
