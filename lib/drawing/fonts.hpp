// The fonts that are built into the library, as HarfBuzz sees them. For sources of this folder
// only.
#pragma once

#include <string_view>

#include <hb.h>

#include "drawing/face.hpp"

namespace linewright::drawing {

/// The font file of a face.
std::string_view font_file(Face face);

/// The face with its scale at font units; it lives as long as the program and never changes.
hb_font_t* font(Face face);

/// Font units in one em.
double units_per_em(Face face);

/// Height of the capitals of the lettering as a share of its em. The nominal height of lettering
/// (ISO 3098) is that of the capitals, so the font size is the nominal height divided by this.
double capital_height_per_em();

}  // namespace linewright::drawing
