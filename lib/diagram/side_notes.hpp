// What stands beside the diagram: how the site runs, notes, dangers, the symbols used.
#pragma once

#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// The room for notes: columns of one width, filled from the left.
struct NoteColumns {
  std::vector<Rect> columns;
};

/// Breaks a text at spaces and hyphens into lines no wider than `width`; a longer word stands
/// alone.
std::vector<std::string> wrapped(const Metrics& metrics, const std::string& text, double width,
                                 Weight weight = Weight::regular);

/// Draws states, notes, dangers and the caution, then the legend of the symbols on the sheet, into
/// the columns. Returns false if something found no room; nothing is left out silently.
bool draw_side_notes(const site::Site& site, const OverviewNotes& notes, const NoteColumns& room,
                     Sketch& sketch);

}  // namespace linewright::diagram
