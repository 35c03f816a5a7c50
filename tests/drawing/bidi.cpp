// The order of lines that mix directions, against the rules of Unicode's annex 9 (UAX #9).
#include "drawing/bidi.hpp"

#include <catch2/catch.hpp>

#include "drawing/text.hpp"
#include "drawing/unicode.hpp"

namespace {

using namespace linewright::drawing;
using linewright::diagram::Weight;

// The characters of a line from left to right as they are set. Brackets in words from right to
// left are mirrored when they are drawn; here they keep their own character.
std::string from_left_to_right(std::string_view text) {
  std::u32string out;
  for (const GlyphRun& run : shape(text, 2.5, Weight::regular).runs) {
    const std::u32string characters = decode_utf8(run.text);
    out += run.right_to_left ? std::u32string(characters.rbegin(), characters.rend()) : characters;
  }
  return encode_utf8(out);
}

}  // namespace

TEST_CASE("bidi: lines are set in the order of the rules") {
  const auto [text, wanted] = GENERATE(table<std::string, std::string>({
      // Nothing runs backward.
      {"-Q1 63 A (4P)", "-Q1 63 A (4P)"},
      // The first letter is Latin: the line runs forward, the word backward, the full stop stays
      // at its end (P2, P3, L2).
      {"panel שלום.", "panel םולש."},
      // The first letter is Hebrew: the line runs backward, the Latin word forward within it.
      {"שלום panel.", ".panel םולש"},
      // Figures run forward between letters that run backward (W2, I1, I2).
      {"מטבח 16 ראשי", "ישאר 16 חבטמ"},
      // A number with its sign and separator stays whole (W4, W5).
      {"זרם 2.5 mm", "mm 2.5 םרז"},
      // A dash between letters of different direction takes the line's own (N1, N2).
      {"-Q1 לוח", "-Q1 חול"},
      {"לוח -Q1", "Q1- חול"},
      // Brackets go with what they enclose (N0): both belong to the line that runs backward.
      {"לוח (ראשי) A1", "A1 )ישאר( חול"},
      // The pair holds Latin letters only, before it stand Hebrew ones: still of the line (N0 c).
      {"לוח (A1) ראשי", "ישאר )A1( חול"},
      // Arabic: figures after Arabic letters run forward (W2), the line runs backward.
      {"غسالة 16", "16 ةلاسغ"},
      // No letter at all: forward.
      {"230/400 V ± 10 %", "230/400 V ± 10 %"},
  }));
  INFO(text);
  CHECK(from_left_to_right(text) == wanted);
}

TEST_CASE("bidi: the first letter decides the direction of the line") {
  CHECK_FALSE(shape("16 A panel שלום", 2.5, Weight::regular).right_to_left);
  CHECK(shape("16 שלום panel", 2.5, Weight::regular).right_to_left);
  CHECK_FALSE(shape("16 - 17", 2.5, Weight::regular).right_to_left);
}

TEST_CASE("bidi: pieces are turned round from the highest level down to the lowest odd one") {
  using Order = std::vector<std::size_t>;
  CHECK(visual_order({}) == Order{});
  CHECK(visual_order({0, 0}) == Order{0, 1});
  CHECK(visual_order({0, 1, 2, 1, 0}) == Order{0, 3, 2, 1, 4});
  // Level 2 first: 1 0 2 3 4; then all from level 1 on: 4 3 2 0 1.
  CHECK(visual_order({2, 2, 1, 1, 2}) == Order{4, 3, 2, 0, 1});
}

TEST_CASE("bidi: a line is as wide as its words, whatever their order") {
  const double space = text_width(" ", 2.5, Weight::regular);
  const double word = text_width("שלום", 2.5, Weight::regular);
  const double latin = text_width("panel", 2.5, Weight::regular);
  CHECK(text_width("panel שלום", 2.5, Weight::regular) ==
        Approx(latin + space + word).margin(0.05));
}
