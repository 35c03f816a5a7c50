// Shapes and measures one line of text with the built-in fonts.
//
// The nominal height of lettering is the height of its capitals (ISO 3098), so text of nominal
// height h has the font size h / capital_height_per_em(): 2.5 mm lettering is 3.52 mm type.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "diagram/sheet.hpp"
#include "drawing/face.hpp"

namespace linewright::drawing {

/// One glyph, all lengths in mm, y downwards.
struct Glyph {
  std::uint32_t id = 0;
  double advance = 0.0;
  double offset_x = 0.0;
  double offset_y = 0.0;
  std::size_t cluster = 0;  ///< first byte of its characters in the run's text
};

/// A stretch of text in one face, glyphs from left to right.
struct GlyphRun {
  Face face = Face::lettering;
  std::string text;
  std::vector<Glyph> glyphs;
  bool right_to_left = false;  ///< the clusters then fall from the first glyph to the last
};

/// A line of text ready to be drawn.
struct ShapedText {
  std::vector<GlyphRun> runs;
  double width = 0.0;      ///< in mm
  std::u32string missing;  ///< characters that no built-in font has; each takes one em
};

/// The font size in mm of lettering of a nominal height.
double font_size(double height);

/// The line as glyphs. Foreign text is cleaned first (see clean_text).
ShapedText shape(std::string_view text, double height, diagram::Weight weight);

/// The width in mm that `shape` finds.
double text_width(std::string_view text, double height, diagram::Weight weight);

}  // namespace linewright::drawing
