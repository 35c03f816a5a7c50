// From left to right: in which order the groups of columns stand.
#pragma once

#include <cstddef>
#include <vector>

#include "diagram/arrange.hpp"
#include "diagram/line.hpp"

namespace linewright::diagram {

/// Whether a diagram grows to the whole height of its area, or only as long as its gaps look calm.
enum class Growth { free, limited };

/// The paper that the diagram may use; right of `notch_left` it ends at `notch_top` already.
struct Area {
  double left = 0.0;
  double right = 0.0;
  double top = 0.0;
  double bottom = 0.0;
  double notch_left = 0.0;
  double notch_top = 0.0;
  double stretch = 1000.0;  ///< how much higher than it must be the diagram may become
  Growth growth = Growth::free;
};

/// Where each variable of a line stands in the numbering: the groups first, then two ends for each
/// hub that is a bar or joint, then two for each frame.
struct Variables {
  std::size_t groups = 0;
  std::size_t hubs = 0;
  std::size_t frames = 0;

  std::size_t bar_left(std::size_t hub) const { return groups + 2 * hub; }
  std::size_t bar_right(std::size_t hub) const { return groups + 2 * hub + 1; }
  std::size_t frame_left(std::size_t frame) const { return groups + 2 * hubs + 2 * frame; }
  std::size_t frame_right(std::size_t frame) const { return frame_left(frame) + 1; }
  std::size_t count() const { return groups + 2 * hubs + 2 * frames; }
};

/// What an order costs where lines can not keep apart.
struct Faults {
  int frames = 0;         ///< a column inside a frame that is not its own
  int bars = 0;           ///< bars of one layer that overlap
  int bar_crossings = 0;  ///< columns that cross a bar
  int crossings = 0;      ///< columns that cross a joint or the way to a throw
  int throws = 0;         ///< changeovers that do not stand between their throws
  int out_of_order = 0;   ///< pairs against the order of the file
};

/// A left-to-right order and what follows from it.
struct Ordered {
  std::vector<std::size_t> position;  ///< by group
  Line line;
  Variables variables;
  Faults faults;
  double cost = 0.0;
};

/// What the order is chosen from.
struct OrderInput {
  const Plan& plan;
  const Arrangement& arrangement;
  const Measures& measures;
  Area area;
  std::vector<bool> notched;       ///< by row, whether the notch of the area limits it
  bool thorough = false;           ///< more starts where the width is missed by little
  Grid grid = Grid::ignored;       ///< whether the cost is that of places on the grid
  double gap = 2.5;                ///< between columns, mm; frames keep twice as much
  double name_share = 1.0;         ///< of a frame's name that is kept left of what enters it
  std::vector<std::size_t> start;  ///< an order found for other room, by group; empty: none
};

struct Standing;

/// The line that follows from an order, with its faults and its cost. Where the faults alone cost
/// as much as the limit, the line and the rest of the cost are left out.
Ordered line_up(const Standing& standing, const std::vector<std::size_t>& position,
                double limit = 1e12);

/// Searches a good order: starts from the sources' order in the file, then moves groups and runs
/// of groups while that lowers the cost. Ties keep the earlier order, so the same plan gives the
/// same picture.
Ordered choose_order(const OrderInput& input);

/// The throws of a changeover from left to right, as chains.
std::vector<std::size_t> throws_of(const OrderInput& input, std::size_t hub,
                                   const std::vector<std::size_t>& position);

}  // namespace linewright::diagram
