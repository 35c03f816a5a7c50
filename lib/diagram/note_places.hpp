// Where notes may stand beside a diagram.
#pragma once

#include "diagram/sheets.hpp"
#include "diagram/side_notes.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

inline constexpr double notes_gap = 6.0;  ///< mm between columns of notes

/// The columns that the arrangement of the paper keeps for notes, then the largest free places
/// between what is drawn.
NotePlaces note_places(const site::Site& site, const SheetPlan& sheet, const Sketch& sketch);

}  // namespace linewright::diagram
