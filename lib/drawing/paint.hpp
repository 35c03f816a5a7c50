// Replays a display list on a Cairo context. For sources of this folder only.
#pragma once

#include <functional>

#include <cairo.h>

#include "drawing/cairo_faces.hpp"
#include "drawing/display_list.hpp"

namespace linewright::drawing {

/// What to do with areas that lead elsewhere and with the beginning of a group, where the output
/// has such things.
struct PaintHooks {
  std::function<void(const DrawnGroup&)> group;
  std::function<void(const Jump&)> jump;
};

/// Draws the sheet; one unit of the context is one millimetre.
void paint(cairo_t* context, const DisplayList& sheet, const CairoFaces& faces,
           const PaintHooks& hooks = {});

}  // namespace linewright::drawing
