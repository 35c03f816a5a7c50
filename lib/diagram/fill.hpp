// How much of its paper a sheet uses.
#pragma once

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"

namespace linewright::diagram {

/// The share of the drawing area, which is the inside of the frame without the title block, that
/// is covered by the extents of what is drawn: boundaries of assemblies, equipment with its labels
/// (a circuit from its device down to its cells in the table), tables, notes, wires. Each takes as
/// well half the distance that neighbours keep, 2.5 mm to all sides. From 0 to 1; 0 for a sheet
/// that is smaller than its frame.
///
/// Aimed at: 0.55 to 0.90 for every sheet of several but the last one with boards. What can not
/// reach it: the overview of a site whose boards have all left it and which has few notes, and a
/// board that is not half as wide as the sheet before one that is wider.
double fill(const Sheet& sheet, const Metrics& metrics);

}  // namespace linewright::diagram
