// Which board hangs from which: what can leave a sheet as one piece.
#pragma once

#include <cstddef>
#include <vector>

#include "diagram/plan.hpp"

namespace linewright::diagram {

/// What feeds each frame of a plan. All power that a frame and those below it get from the rest of
/// the site passes the frame above it: such a piece can leave the sheet, and only lines to its own
/// frame are cut. Frames that two sides feed, and sources that join frames, hang from none.
struct Feeding {
  std::vector<std::size_t> above;               ///< by frame; none: it hangs from no other
  std::vector<std::vector<std::size_t>> below;  ///< by frame, in the plan's order
  std::vector<std::size_t> home;                ///< by hub, the frame it belongs to; none: to none
  std::vector<std::size_t> circuits;            ///< by frame, with all below it
  std::vector<std::size_t> sources;             ///< by frame, with all below it
};

Feeding feeding_of(const Plan& plan);

/// The frame and all below it, the upper ones first.
std::vector<std::size_t> subtree(const Feeding& feeding, std::size_t frame);

}  // namespace linewright::diagram
