// Sheets of words: what authorities want to read, notes that found no room beside the diagram, the
// symbols.
#pragma once

#include <string>
#include <vector>

#include "diagram/note_blocks.hpp"
#include "diagram/overview.hpp"
#include "diagram/paper.hpp"
#include "diagram/side_notes.hpp"

namespace linewright::diagram {

/// Which letters the designations of a site begin with, and what each of them stands for there.
FactBlock letters_of(const site::Site& site);

/// Columns of one width for blocks from `top` down; those over the title block end above it.
std::vector<Rect> columns_below(const site::Site& site, const Paper& paper, double top);

/// "Particulars and symbols": what stands on the sheets.
std::string title_of_text(const OverviewNotes& notes, const NotesLeft& left);

/// As many sheets as it takes, the first named "particulars", still without title blocks: what is
/// left of the notes, the particulars, then the symbols and letters. A block goes on in the next
/// column.
std::vector<Sheet> text_sheets(const site::Site& site, const Metrics& metrics,
                               const OverviewNotes& notes, const NotesLeft& left);

}  // namespace linewright::diagram
