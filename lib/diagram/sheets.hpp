// Which parts of a site go on which sheet.
#pragma once

#include <functional>
#include <vector>

#include "diagram/measure.hpp"
#include "diagram/paper.hpp"
#include "diagram/place.hpp"

namespace linewright::diagram {

/// Where the notes stand: in a column at the right, below the diagram at the left, or wherever the
/// diagram leaves room.
enum class NotesAt { right, below, anywhere };

/// A part of the site with its place on its own sheet.
struct SheetPlan {
  Plan plan;
  Measures measures;
  Placed placed;
  NotesAt notes = NotesAt::right;
  Paper paper;  ///< the site's, or the next larger one for what finds no place there
};

/// The overview first, then the boards that it can not hold, as few sheets as possible. References
/// name sheet and zone of their other ends. What fits no sheet even by itself is in `misfits`.
struct Division {
  std::vector<SheetPlan> sheets;
  std::vector<Plan> misfits;
};

/// `holds_notes` says of an overview whether the notes that belong beside it have room.
Division divide(const site::Site& site, const Metrics& metrics,
                const std::function<bool(const SheetPlan&)>& holds_notes);

}  // namespace linewright::diagram
