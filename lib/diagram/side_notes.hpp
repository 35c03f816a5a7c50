// What stands beside the diagram: how the site runs, notes, dangers, the symbols used.
#pragma once

#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// Notes that are still to be drawn.
struct NotesLeft {
  OverviewNotes states;  ///< the table "How the site runs"; no rows: none
  std::vector<std::string> dangers;
  std::vector<std::string> notes;
  std::vector<std::string> further;  ///< equipment and connections that no line shows
  std::vector<std::string> symbols;  ///< of the legend

  bool empty() const {
    return states.states.empty() && dangers.empty() && notes.empty() && further.empty() &&
           symbols.empty();
  }
};

/// All notes of the overview.
NotesLeft notes_of(const site::Site& site, const OverviewNotes& notes);

/// Draws notes into columns, each block into the first that has room, and returns what found none.
/// A legend that would need more than two places is left whole.
NotesLeft draw_notes(const NotesLeft& what, const std::vector<Rect>& columns, Sketch& sketch);

}  // namespace linewright::diagram
