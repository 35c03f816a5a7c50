// The fonts as HarfBuzz sees them. For sources of this folder only.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include <hb.h>

#include "drawing/font_set.hpp"

namespace linewright::drawing {

using OwnedFont = std::unique_ptr<hb_font_t, decltype(&hb_font_destroy)>;

/// What a FontSet holds besides the built-in fonts.
struct GivenFonts {
  std::vector<FontFile> files;
  std::vector<OwnedFont> fonts;  ///< over the bytes of `files`
  std::vector<Face> regular;     ///< the order in which faces are tried
  std::vector<Face> bold;
};

/// The bytes of a face's file.
std::string_view font_file(const FontSet& fonts, Face face);

/// The face with its scale at font units; it lives as long as the set and never changes.
hb_font_t* font(const FontSet& fonts, Face face);

/// A font over bytes that outlive it, or null if they hold no font.
OwnedFont open_font(std::string_view bytes);

/// Font units in one em.
double units_per_em(const FontSet& fonts, Face face);

/// Height of the capitals of the lettering as a share of its em. The nominal height of lettering
/// (ISO 3098) is that of the capitals, so the font size is the nominal height divided by this.
double capital_height_per_em();

}  // namespace linewright::drawing
