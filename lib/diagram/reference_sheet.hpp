// Sheets on which symbols, notes and data stand that the overview has no room for.
#pragma once

#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "diagram/paper.hpp"
#include "diagram/side_notes.hpp"

namespace linewright::diagram {

/// Which letters the designations of a site begin with, and what each of them stands for there.
FactBlock letters_of(const site::Site& site);

/// Columns for blocks from `top` down; those over the title block end above it.
std::vector<Rect> columns_below(const site::Site& site, const Paper& paper, double top);

/// "Symbols, notes and supply data": what of these there is.
std::string reference_title(const NotesLeft& what);

/// As many sheets as it takes, the first named "symbols", still without title blocks: the symbols
/// with their names in a grid, then facts, tables and lists in columns. Long lists go on in the
/// next column, with their numbers.
std::vector<Sheet> reference_sheets(const site::Site& site, const Metrics& metrics,
                                    const NotesLeft& what);

}  // namespace linewright::diagram
