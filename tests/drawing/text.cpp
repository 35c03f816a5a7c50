// Widths against HarfBuzz's own command, and what becomes of text that is foreign or hostile.
#include "drawing/text.hpp"

#include <cstdlib>

#include <catch2/catch.hpp>

#include "drawing/metrics.hpp"
#include "drawing/tools.hpp"
#include "drawing/unicode.hpp"
#include "support/paths.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;
using namespace linewright::tests;
using diagram::Weight;

// The sum of the advances that hb-shape prints ("[12=0+1000|…]"), in font units of 2048 to the em.
double advances_by_command(const std::string& font, const std::string& text) {
  const CommandOutcome outcome =
      run_command("hb-shape --no-glyph-names --no-clusters '" + source_folder() +
                  "/lib/drawing/fonts/" + font + "' --text='" + text + "'");
  INFO(outcome.output);
  REQUIRE(outcome.exit == 0);
  double sum = 0.0;
  for (std::size_t at = outcome.output.find('+'); at != std::string::npos;
       at = outcome.output.find('+', at + 1)) {
    sum += std::strtod(outcome.output.c_str() + at + 1, nullptr);
  }
  REQUIRE(sum > 0.0);
  return sum;
}

}  // namespace

TEST_CASE("text: the nominal height is the height of capitals, 1456 of 2048 units") {
  CHECK(font_size(2.5) == Approx(2.5 * 2048.0 / 1456.0));
  CHECK(font_size(1.8) == Approx(2.53).margin(0.005));
}

TEST_CASE("text: widths are those that HarfBuzz's command finds") {
  const std::string text = GENERATE("C16 3P+N 30 mA", "-Q1", "AVATAR To Wy", "5×16 mm² Cu, 9 m",
                                    "IΔn µ Ω √ ° Жук é", "fi ffi");
  INFO(text);
  const double size = font_size(2.5);
  CHECK(text_width(text, 2.5, Weight::regular) ==
        Approx(advances_by_command("RobotoCondensed-Regular.ttf", text) / 2048.0 * size)
            .epsilon(1e-6));
  CHECK(
      text_width(text, 2.5, Weight::bold) ==
      Approx(advances_by_command("RobotoCondensed-Bold.ttf", text) / 2048.0 * size).epsilon(1e-6));
}

TEST_CASE("text: kerning makes AV narrower than A and V") {
  CHECK(text_width("AV", 2.5, Weight::regular) <
        text_width("A", 2.5, Weight::regular) + text_width("V", 2.5, Weight::regular) - 0.05);
}

TEST_CASE("text: width grows with height in proportion, and nothing is 0 wide") {
  CHECK(text_width("Backup side", 5.0, Weight::regular) ==
        Approx(2.0 * text_width("Backup side", 2.5, Weight::regular)));
  CHECK(text_width("", 2.5, Weight::regular) == 0.0);
}

TEST_CASE("text: signs that the lettering lacks come from the fallback") {
  const ShapedText text = shape("3 → 4", 2.5, Weight::regular);
  REQUIRE(text.runs.size() == 3);
  CHECK(text.runs[0].face == Face::lettering);
  CHECK(text.runs[1].face == Face::fallback);
  CHECK(text.runs[1].text == "→ ");
  CHECK(text.missing.empty());
  const double arrow = advances_by_command("DejaVuSansCondensed.ttf", "→ ");
  CHECK(text_width("→ ", 2.5, Weight::regular) == Approx(arrow / 2048.0 * font_size(2.5)));
}

TEST_CASE("text: a character that no font has is named and takes one em") {
  const ShapedText text = shape("A配電B配", 2.5, Weight::regular);
  CHECK(text.missing == U"配電配");
  CHECK(text.width == Approx(shape("A", 2.5, Weight::regular).width +
                             shape("B", 2.5, Weight::regular).width + 3.0 * font_size(2.5)));
}

TEST_CASE("text: a right-to-left word is shaped backward, its neighbours are not") {
  const ShapedText text = shape("K1 שלום", 2.5, Weight::regular);
  REQUIRE(text.runs.size() == 2);
  CHECK_FALSE(text.runs[0].right_to_left);
  CHECK(text.runs[1].right_to_left);
  CHECK(text.runs[1].glyphs.front().cluster > text.runs[1].glyphs.back().cluster);
}

TEST_CASE("text: a combining mark stays with its letter") {
  CHECK(shape("e\u0301a", 2.5, Weight::regular).runs.size() == 1);
  CHECK(text_width("e\u0301", 2.5, Weight::regular) ==
        Approx(text_width("é", 2.5, Weight::regular)));
}

TEST_CASE("text: control characters, direction marks and broken UTF-8 are cleaned") {
  CHECK(clean_text("a\tb\r\nc") == "a b  c");
  CHECK(clean_text(std::string("a\0b\x07\x1b[31mc", 10)) == "ab[31mc");
  CHECK(clean_text("a\u202Eb\u2066c\u200Fd") == "abcd");
  CHECK(clean_text("\xFF\xC0\xAF") == "\uFFFD\uFFFD\uFFFD");
  CHECK(clean_text("\xED\xA0\x80") == "\uFFFD\uFFFD\uFFFD");  // half of a surrogate pair
  CHECK(clean_text("\xF4\x90\x80\x80").find("\uFFFD") == 0);  // beyond U+10FFFF
  CHECK(clean_text("\uFFFE\uFFFFx") == "x");
  CHECK(clean_text("µ Ω 😀") == "µ Ω 😀");
}

TEST_CASE("metrics: widths and shapes are those of the drawing") {
  const diagram::Metrics found = metrics();
  CHECK(found.text_width("-Q1", 2.5, Weight::bold) == text_width("-Q1", 2.5, Weight::bold));
  const diagram::SymbolShape& breaker = found.symbols.find("circuit-breaker")->second;
  // The arm reaches to x = -2.5 with half a pen of 0.3, the cross to 0.9.
  CHECK(breaker.bounds.x == Approx(-2.65));
  CHECK(breaker.bounds.width == Approx(2.65 + 1.05));
  CHECK(breaker.bounds.height == Approx(15.3));
  CHECK(breaker.title == "circuit-breaker");
}
