// A font file cut down to the characters in use.
#pragma once

#include <string>
#include <string_view>

#include "drawing/face.hpp"

namespace linewright::drawing {

/// A TrueType file of the face with the glyphs of these characters, unhinted; the same bytes for
/// the same characters in whatever order.
std::string subset_font(Face face, std::u32string_view characters);

}  // namespace linewright::drawing
