// What stands beside the diagram: how the site runs, notes, dangers, the symbols used.
#pragma once

#include <cstddef>
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

  /// Nothing is left of what must stand on the overview.
  bool told() const {
    return states.states.empty() && dangers.empty() && notes.empty() && further.empty();
  }
  bool empty() const { return told() && symbols.empty(); }
};

/// Where notes may stand: columns in the order in which they are filled.
struct NotePlaces {
  std::vector<Rect> columns;
};

/// All notes of the overview but for its symbols.
NotesLeft notes_of(const site::Site& site, const OverviewNotes& notes);

/// Draws notes into columns, each block into the first that has room, and returns what found none.
/// No block is cut.
NotesLeft draw_notes(const NotesLeft& what, const NotePlaces& places, Sketch& sketch);

}  // namespace linewright::diagram
