#include "drawing/text.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "drawing/bidi.hpp"
#include "drawing/fonts.hpp"
#include "drawing/unicode.hpp"

namespace linewright::drawing {
namespace {

using OwnedBuffer = std::unique_ptr<hb_buffer_t, decltype(&hb_buffer_destroy)>;

bool has_glyph(const FontSet& fonts, Face face, char32_t c) {
  hb_codepoint_t glyph = 0;
  return hb_font_get_nominal_glyph(font(fonts, face), c, &glyph) != 0;
}

bool is_space(char32_t c) {
  return c == ' ' || c == 0xA0 || c == 0x202F || c == 0x2009;
}

// A character with the marks that sit on it: the first face that has all of it, or else the first
// that has the character.
Face face_for(std::u32string_view cluster, diagram::Weight weight, const FontSet& fonts) {
  const std::vector<Face>& order = fonts.order(weight);
  const auto all = std::find_if(order.begin(), order.end(), [&](Face face) {
    return std::all_of(cluster.begin(), cluster.end(),
                       [&](char32_t c) { return has_glyph(fonts, face, c); });
  });
  if (all != order.end()) return *all;
  const auto some = std::find_if(order.begin(), order.end(), [&](Face face) {
    return has_glyph(fonts, face, cluster.front());
  });
  return some != order.end() ? *some : order.front();
}

/// Runs in the order of the text, with the level of each.
struct Divided {
  std::vector<GlyphRun> runs;
  std::vector<std::uint8_t> levels;
};

// Cuts the text where the face or the reading direction changes. A mark stays with the letter
// before it, a space with the face before it, so that words of one script are shaped as a whole.
Divided divide(const std::u32string& text, diagram::Weight weight, const FontSet& fonts,
               const std::vector<std::uint8_t>& levels) {
  Divided out;
  Face face = fonts.order(weight).front();
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    while (end < text.size() && clings_to_previous(text[end]))
      ++end;
    const std::u32string_view cluster = std::u32string_view(text).substr(i, end - i);
    if (out.runs.empty() || !is_space(text[i])) face = face_for(cluster, weight, fonts);
    if (out.runs.empty() || out.runs.back().face != face || out.levels.back() != levels[i]) {
      out.runs.push_back({face, {}, {}, levels[i] % 2 != 0});
      out.levels.push_back(levels[i]);
    }
    out.runs.back().text += encode_utf8(cluster);
    i = end;
  }
  return out;
}

void note_missing(ShapedText& out, const GlyphRun& run, std::size_t cluster) {
  const std::u32string rest = decode_utf8(std::string_view(run.text).substr(cluster));
  if (!rest.empty()) out.missing += rest.front();
}

void shape_run(GlyphRun& run, double size, const FontSet& fonts, ShapedText& out) {
  const OwnedBuffer buffer(hb_buffer_create(), &hb_buffer_destroy);
  const int length = static_cast<int>(run.text.size());
  hb_buffer_add_utf8(buffer.get(), run.text.data(), length, 0, length);
  hb_buffer_guess_segment_properties(buffer.get());
  hb_buffer_set_language(buffer.get(), hb_language_from_string("en", -1));
  hb_buffer_set_direction(buffer.get(), run.right_to_left ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
  hb_shape(font(fonts, run.face), buffer.get(), nullptr, 0);

  unsigned count = 0;
  const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer.get(), &count);
  const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(buffer.get(), &count);
  const double scale = size / units_per_em(fonts, run.face);
  for (unsigned i = 0; i < count; ++i) {
    Glyph glyph{infos[i].codepoint, positions[i].x_advance * scale, positions[i].x_offset * scale,
                -positions[i].y_offset * scale, infos[i].cluster};
    if (glyph.id == 0) {
      glyph.advance = size;
      note_missing(out, run, glyph.cluster);
    }
    out.width += glyph.advance;
    run.glyphs.push_back(glyph);
  }
}

}  // namespace

double font_size(double height) {
  return height / capital_height_per_em();
}

ShapedText shape(std::string_view text, double height, diagram::Weight weight,
                 const FontSet& fonts) {
  const std::u32string characters = decode_utf8(clean_text(text));
  const Directions directions = directions_of(characters);
  Divided divided = divide(characters, weight, fonts, directions.levels);
  ShapedText out;
  out.right_to_left = directions.right_to_left_line;
  for (GlyphRun& run : divided.runs)
    shape_run(run, font_size(height), fonts, out);
  for (const std::size_t i : visual_order(divided.levels))
    out.runs.push_back(std::move(divided.runs[i]));
  return out;
}

double text_width(std::string_view text, double height, diagram::Weight weight,
                  const FontSet& fonts) {
  return shape(text, height, weight, fonts).width;
}

}  // namespace linewright::drawing
