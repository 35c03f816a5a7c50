// What the marks of pictures mean: at the foot of their sheet, or on sheets of its own.
#pragma once

#include <span>
#include <vector>

#include "diagram/picture_layout.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// The pictures whose marks are explained.
struct PictureMarks {
  const site::Site& site;
  const PictureSet& set;
  std::span<const Picture> pictures;
  const PictureLayout& layout;
};

/// Whether all of a legend stands on the sheet.
enum class Legend { whole, cut };

/// Whether the legend has room beside the title block; if not, all of it stands on the last sheet,
/// and the line that says so needs some room above the title block.
bool has_legend_beside(const site::Site& site);

/// Draws the legend left of the title block, one column each for sources, marks and boards; what
/// finds no room in its column goes on in the others. What is cut is said to be on the last sheet.
Legend draw_legend(const PictureMarks& marks, Sketch& sketch);

/// All of the legend on as many sheets as it takes.
std::vector<Sheet> legend_sheets(const PictureMarks& marks, const Metrics& metrics);

}  // namespace linewright::diagram
