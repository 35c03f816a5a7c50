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

/// A plan with its place.
struct Part {
  Plan plan;
  Measures measures;
  Placed placed;
};

/// What one sheet shows: the meshed part of a site, or boards on shelves, one below the other.
struct SheetPlan {
  std::vector<Part> parts;  ///< from the top
  NotesAt notes = NotesAt::right;
  double notes_end = 1e9;  ///< notes keep above that height, mm on the sheet
  Paper paper;             ///< the site's, or the next larger one for what finds no place there
};

/// The overview first, then the boards that it can not hold, in the order of the file, as few
/// sheets as possible. References name sheet and zone of their other ends. What fits no sheet even
/// by itself is in `misfits`.
struct Division {
  std::vector<SheetPlan> sheets;
  std::vector<Plan> misfits;
};

/// What is asked of a sheet that shows a supply: whether the notes that belong beside the diagram
/// have room.
using HoldsNotes = std::function<bool(const SheetPlan&)>;

/// What is the same for every sheet of a site.
struct Job {
  const site::Site& site;
  const Metrics& metrics;
  const HoldsNotes& holds_notes;
  Paper paper;
};

/// Divides the site over sheets.
Division divide(const site::Site& site, const Metrics& metrics, const HoldsNotes& holds_notes);

}  // namespace linewright::diagram
