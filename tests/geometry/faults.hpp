// What a draughtsman would redraw on a sheet, found from its geometry alone.
#pragma once

#include <string>
#include <vector>

#include "geometry/browser.hpp"

namespace linewright::tests::geometry {

using Faults = std::vector<std::string>;

/// Text over text, over a line or over a symbol.
Faults covered_texts(const Sheet& sheet);

/// Wires through symbols that they do not belong to.
Faults wires_through_symbols(const Sheet& sheet);

/// Two wires that run along the same line.
Faults wires_on_wires(const Sheet& sheet);

/// Wires with an end that meets nothing.
Faults loose_ends(const Sheet& sheet);

/// Joints without a dot, and dots that join nothing.
Faults doubtful_joints(const Sheet& sheet);

/// What reaches over the frame.
Faults outside_frame(const Sheet& sheet);

/// Lettering below 2.5 mm, or below 1.8 mm in the title block and in symbols.
Faults small_texts(const Sheet& sheet);

/// All of the above, each with the name of its sheet.
Faults faults_of(const Sheet& sheet);

}  // namespace linewright::tests::geometry
