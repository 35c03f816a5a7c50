#include "drawing/text.hpp"

#include <memory>
#include <optional>
#include <utility>

#include "drawing/fonts.hpp"
#include "drawing/unicode.hpp"

namespace linewright::drawing {
namespace {

using OwnedBuffer = std::unique_ptr<hb_buffer_t, decltype(&hb_buffer_destroy)>;

bool has_glyph(Face face, char32_t c) {
  hb_codepoint_t glyph = 0;
  return hb_font_get_nominal_glyph(font(face), c, &glyph) != 0;
}

bool is_space(char32_t c) {
  return c == ' ' || c == 0xA0 || c == 0x202F || c == 0x2009;
}

// True for letters of Hebrew, Arabic and the like, false for Latin and its like, nothing for signs.
std::optional<bool> reads_right_to_left(char32_t c) {
  const hb_script_t script = hb_unicode_script(hb_unicode_funcs_get_default(), c);
  if (script == HB_SCRIPT_COMMON || script == HB_SCRIPT_INHERITED || script == HB_SCRIPT_UNKNOWN)
    return {};
  return hb_script_get_horizontal_direction(script) == HB_DIRECTION_RTL;
}

// Cuts the text where the face or the reading direction changes. A mark stays with the letter
// before it, a space with the face before it, so that words of one script are shaped as a whole.
std::vector<GlyphRun> divide(const std::u32string& text, diagram::Weight weight) {
  const Face first = lettering_face(weight);
  const Face second = fallback_face(weight);
  std::vector<GlyphRun> runs;
  for (const char32_t c : text) {
    const bool begun = !runs.empty();
    Face face = has_glyph(first, c) || !has_glyph(second, c) ? first : second;
    if (begun && (clings_to_previous(c) || is_space(c))) face = runs.back().face;
    const bool backward = reads_right_to_left(c).value_or(begun && runs.back().right_to_left);
    if (!begun || runs.back().face != face || runs.back().right_to_left != backward)
      runs.push_back({face, {}, {}, backward});
    runs.back().text += encode_utf8(c);
  }
  return runs;
}

void note_missing(ShapedText& out, const GlyphRun& run, std::size_t cluster) {
  const std::u32string rest = decode_utf8(std::string_view(run.text).substr(cluster));
  if (!rest.empty()) out.missing += rest.front();
}

void shape_run(GlyphRun& run, double size, ShapedText& out) {
  const OwnedBuffer buffer(hb_buffer_create(), &hb_buffer_destroy);
  const int length = static_cast<int>(run.text.size());
  hb_buffer_add_utf8(buffer.get(), run.text.data(), length, 0, length);
  hb_buffer_guess_segment_properties(buffer.get());
  hb_buffer_set_language(buffer.get(), hb_language_from_string("en", -1));
  hb_buffer_set_direction(buffer.get(), run.right_to_left ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
  hb_shape(font(run.face), buffer.get(), nullptr, 0);

  unsigned count = 0;
  const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer.get(), &count);
  const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(buffer.get(), &count);
  const double scale = size / units_per_em(run.face);
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

ShapedText shape(std::string_view text, double height, diagram::Weight weight) {
  ShapedText out;
  std::vector<GlyphRun> runs = divide(decode_utf8(clean_text(text)), weight);
  for (GlyphRun& run : runs)
    shape_run(run, font_size(height), out);
  out.runs = std::move(runs);
  return out;
}

double text_width(std::string_view text, double height, diagram::Weight weight) {
  return shape(text, height, weight).width;
}

}  // namespace linewright::drawing
