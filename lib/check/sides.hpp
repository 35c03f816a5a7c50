// Which circuits take their line from one side of a transfer and their neutral from another.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// Circuits alike: the same line and the same neutral, which belong to different sides.
struct AcrossSides {
  std::vector<std::size_t> loads;
  std::size_t line_side = site::none;     ///< source or transfer that the line hangs on
  std::size_t neutral_side = site::none;  ///< the one that the neutral hangs on
};

/// All of them. Everything that changes over stands open in this; whatever else any named state
/// has closed is closed.
std::vector<AcrossSides> circuits_across_sides(const AnalysedSite& site);

/// Whether a circuit is one of those.
bool across_sides(const AnalysedSite& site, std::size_t load);

}  // namespace linewright::check
