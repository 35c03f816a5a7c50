// Writes a sheet as SVG: real text, a group with id, title and description for each element.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "drawing/display_list.hpp"

namespace linewright::drawing {

/// What the SVG of one sheet depends on besides the drawing.
struct SvgOptions {
  std::size_t sheet = 0;                ///< index in Drawing::sheets
  std::vector<std::string> file_names;  ///< of all sheets, for links; empty: "NAME.svg" each
};

/// The sheet as an SVG document, in mm, the same bytes for the same drawing. Fails when there is
/// no such sheet.
///
/// Groups: <g class="KIND" id data-id data-…> with <title> and <desc>; a run is
/// <g class="cable"> with <path class="run" data-from data-to>; symbols are defined once and used.
Result<std::string> write_svg(const Drawing& drawing, const SvgOptions& options = {});

}  // namespace linewright::drawing
