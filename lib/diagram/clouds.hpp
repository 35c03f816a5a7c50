// Revision clouds: where they are on a sheet, and their outline.
#pragma once

#include <cstddef>
#include <vector>

#include "diagram/change_sheets.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// A cloud with the numbers of the changes in it, from 1.
struct Cloud {
  Rect body;  ///< the outline bulges out of it
  std::vector<std::size_t> numbers;
};

/// The clouds of a sheet, none of whose outlines cuts words and none of which meets another.
std::vector<Cloud> clouds_on(const Sketch& sketch, const std::vector<ChangeMark>& changes);

/// Draws the outlines, and triangles with the numbers where they cover no words.
void draw_clouds(const std::vector<ChangeMark>& changes, const std::vector<Cloud>& clouds,
                 Sketch& sketch);

}  // namespace linewright::diagram
