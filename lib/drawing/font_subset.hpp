// A font file cut down to the characters in use. For sources of this folder only.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <hb.h>

#include "drawing/font_set.hpp"

namespace linewright::drawing {

/// A font file with the glyphs of these characters, unhinted; the same bytes for the same
/// characters in whatever order. Nothing if the font is too damaged for that.
std::optional<std::string> subset_of(hb_font_t* font, std::u32string_view characters);

/// The same of a face that was found sound.
std::string subset_font(const FontSet& fonts, Face face, std::u32string_view characters);

}  // namespace linewright::drawing
