// Shapes and measures one line of text.
//
// The nominal height of lettering is the height of its capitals (ISO 3098), so text of nominal
// height h has the font size h / capital_height_per_em(): 2.5 mm lettering is 3.52 mm type.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "diagram/sheet.hpp"
#include "drawing/font_set.hpp"

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
  std::vector<GlyphRun> runs;  ///< from left to right
  double width = 0.0;          ///< in mm
  std::u32string missing;      ///< characters that no font has, as they come; each takes one em
  bool right_to_left = false;  ///< the line as a whole is read from right to left
};

/// The font size in mm of lettering of a nominal height.
double font_size(double height);

/// The line as glyphs. Foreign text is cleaned first (see clean_text). Lines that mix directions
/// are ordered by the bidirectional algorithm of Unicode; the first letter decides the line's own.
ShapedText shape(std::string_view text, double height, diagram::Weight weight,
                 const FontSet& fonts = {});

/// The width in mm that `shape` finds.
double text_width(std::string_view text, double height, diagram::Weight weight,
                  const FontSet& fonts = {});

}  // namespace linewright::drawing
