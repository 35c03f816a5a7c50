// Fonts of the user behind the built-in ones, and what becomes of characters that no font has.
#include <algorithm>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "drawing/font_set.hpp"
#include "drawing/metrics.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/svg.hpp"
#include "drawing/symbol_table.hpp"
#include "drawing/text.hpp"
#include "drawing/tools.hpp"
#include "drawing/unicode.hpp"
#include "drawing/unreadable.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;
using namespace linewright::tests;
using diagram::Weight;

// Debian's fonts-lohit-deva and fonts-smc-manjari: a TrueType and an OpenType (CFF) font.
constexpr const char* devanagari =
    "/usr/share/fonts/truetype/lohit-devanagari/Lohit-Devanagari.ttf";
constexpr const char* malayalam = "/usr/share/fonts/opentype/malayalam/Manjari-Regular.otf";
constexpr const char* malayalam_bold = "/usr/share/fonts/opentype/malayalam/Manjari-Bold.otf";

FontSet fonts_of(const std::vector<std::string>& paths) {
  std::vector<FontFile> files;
  for (const std::string& path : paths)
    files.push_back({path, read_file(path)});
  const Result<FontSet> set = FontSet::create(std::move(files));
  if (!set) FAIL(set.error().message);
  return *set;
}

Drawing drawn(const std::string& text, const FontSet& fonts) {
  diagram::Group group = text_group(text);
  group.id = "-F5";
  const Result<Drawing> drawing =
      render(document_of(group), built_in_symbols(), Palette::colour, fonts);
  if (!drawing) FAIL(drawing.error().message);
  return *drawing;
}

Picture picture_of(const std::string& text, const FontSet& fonts = {}) {
  const Result<std::string> png = write_png(drawn(text, fonts), {.sheet = 0, .dpi = 254.0});
  REQUIRE(png);
  return read_png(*png);
}

int inked(const Picture& picture) {
  return static_cast<int>(
      std::count_if(picture.grey.begin(), picture.grey.end(), [](int grey) { return grey < 128; }));
}

std::string refusal(std::string bytes) {
  const Result<FontSet> set = FontSet::create({{"my.ttf", std::move(bytes)}});
  REQUIRE_FALSE(set);
  return set.error().message;
}

// The fonts in an SVG, as files.
std::vector<std::string> embedded_fonts(const std::string& svg) {
  std::vector<std::string> paths;
  const std::string before = ";base64,";
  for (std::size_t at = svg.find(before); at != std::string::npos; at = svg.find(before, at + 1)) {
    const std::size_t begin = at + before.size();
    const std::string code = svg.substr(begin, svg.find(')', begin) - begin);
    const std::string path = write_scratch(fmt::format("embedded-{}.b64", paths.size()), code);
    paths.push_back(path + ".font");
    REQUIRE(run_command("base64 -d '" + path + "' > '" + paths.back() + "'").exit == 0);
  }
  return paths;
}

}  // namespace

TEST_CASE("fonts: a word in a script of the user's font is set in it, shaped and whole") {
  const std::string word = "मुख्य";
  CHECK(shape(word, 2.5, Weight::regular).missing.size() > 0);
  const ShapedText text = shape(word, 2.5, Weight::regular, fonts_of({devanagari}));
  CHECK(text.missing.empty());
  REQUIRE(text.runs.size() == 1);
  CHECK(text.runs[0].face == given_face(0));
  const CommandOutcome outcome = run_command(fmt::format(
      "hb-shape --no-glyph-names --no-positions --no-clusters '{}' '{}'", devanagari, word));
  std::string ids;  // as the command prints them: [1|2|3]
  for (const Glyph& glyph : text.runs[0].glyphs)
    ids += (ids.empty() ? "" : "|") + std::to_string(glyph.id);
  CHECK(outcome.output == "[" + ids + "]\n");
}

TEST_CASE("fonts: what the built-in fonts have is not taken from the user's") {
  const FontSet fonts = fonts_of({devanagari});
  const ShapedText text = shape("B16 → A", 2.5, Weight::regular, fonts);
  for (const GlyphRun& run : text.runs)
    CHECK(run.face < Face::first_given);
  CHECK(text.width == text_width("B16 → A", 2.5, Weight::regular));
}

TEST_CASE("fonts: bold words take the user's bold font, others the regular one") {
  const FontSet fonts = fonts_of({malayalam_bold, malayalam});
  CHECK(shape("അടുക്കള", 2.5, Weight::bold, fonts).runs[0].face == given_face(0));
  CHECK(shape("അടുക്കള", 2.5, Weight::regular, fonts).runs[0].face == given_face(1));
}

TEST_CASE("fonts: the user's fonts are embedded and cut in SVG and PDF") {
  const Drawing drawing = drawn("मुख्य അടുക്കള", fonts_of({devanagari, malayalam}));
  const Result<std::string> svg = write_svg(drawing);
  REQUIRE(svg);
  CHECK_THAT(*svg, Catch::Contains("'Linewright Given 1','Linewright Given 2'"));
  const std::vector<std::string> files = embedded_fonts(*svg);
  REQUIRE(files.size() == 2);
  CHECK(read_file(files[0]).size() < read_file(devanagari).size() / 2);
  CHECK(read_file(files[1]).starts_with("OTTO"));
  for (const auto& [file, word] : {std::pair(files[0], "मुख्य"), std::pair(files[1], "അടുക്കള")}) {
    const CommandOutcome shaped = run_command(fmt::format(
        "hb-shape --no-glyph-names --no-positions --no-clusters '{}' '{}'", file, word));
    INFO(shaped.output);
    CHECK(shaped.exit == 0);
    CHECK(("|" + shaped.output.substr(1)).find("|0|") == std::string::npos);
  }
  const Result<std::string> pdf = write_pdf(drawing);
  REQUIRE(pdf);
  const std::string path = write_scratch("given-fonts.pdf", *pdf);
  const std::string list = run_command("pdffonts '" + path + "'").output;
  CHECK_THAT(list, Catch::Contains("Lohit-Devanagari") && Catch::Contains("Manjari-Regular"));
  CHECK(list.find(" no ") == std::string::npos);  // embedded, subset, with Unicode
  CHECK_THAT(run_command("pdftotext '" + path + "' -").output, Catch::Contains("मुख्य"));
  CHECK_THAT(run_command("qpdf --check '" + path + "'").output,
             Catch::Contains("No syntax or stream"));
}

TEST_CASE("fonts: the picture shows the word, not boxes") {
  const FontSet fonts = fonts_of({devanagari});
  const Picture with = picture_of("मुख्य", fonts);
  CHECK(inked(with) > 50);
  CHECK(with.grey != picture_of("मुख्य").grey);
}

TEST_CASE("fonts: what is no font that can be used is refused with the reason") {
  CHECK(refusal("") == "my.ttf: is no font, must be a TrueType or OpenType file (TTF, OTF)");
  CHECK_THAT(refusal("<svg/>"), Catch::Contains("is no font"));
  CHECK_THAT(refusal("wOF2" + std::string(100, 'x')), Catch::Contains("is a web font"));
  const std::string sound = read_file(devanagari);
  CHECK_THAT(refusal(sound.substr(0, 200)), Catch::Contains("my.ttf: "));
  std::string text = sound;
  const std::size_t glyf = text.find("glyf");
  REQUIRE(glyf < 300);
  text.replace(glyf, 4, "gone");
  CHECK_THAT(refusal(text), Catch::Contains("has no outlines"));
  CHECK(FontSet::create(std::vector<FontFile>(most_fonts, {"a.ttf", sound})));
  CHECK_FALSE(FontSet::create(std::vector<FontFile>(most_fonts + 1, {"a.ttf", sound})));
}

TEST_CASE("fonts: a font whose maker forbids embedding is refused") {
  std::string bytes = read_file(devanagari);
  const std::size_t entry = bytes.find("OS/2");  // tag, checksum, offset, length
  const auto byte = [&](std::size_t i) {
    return static_cast<std::size_t>(static_cast<unsigned char>(bytes[i]));
  };
  const std::size_t table = (byte(entry + 8) << 24U) | (byte(entry + 9) << 16U) |
                            (byte(entry + 10) << 8U) | byte(entry + 11);
  bytes[table + 9] = 2;  // the low byte of fsType: restricted
  CHECK_THAT(refusal(bytes), Catch::Contains("may not be embedded"));
  bytes[table + 9] = 8;  // editable embedding is allowed
  CHECK(FontSet::create({{"my.ttf", bytes}}));
}

TEST_CASE("fonts: bytes damaged by chance are refused or drawn, never worse") {
  const std::string sound = read_file(devanagari);
  unsigned seed = 1;
  const auto next = [&] { return seed = seed * 1'664'525U + 1'013'904'223U; };
  for (int i = 0; i < 40; ++i) {
    std::string bytes = sound;
    for (int k = 0; k < 30; ++k)
      bytes[(next() >> 8U) % (i % 2 == 0 ? 400 : bytes.size())] = static_cast<char>(next() >> 24U);
    const Result<FontSet> set = FontSet::create({{"damaged.ttf", bytes}});
    if (!set) continue;
    const Drawing drawing = drawn("मुख्य पैनल", *set);
    CHECK(write_svg(drawing));
    (void)write_pdf(drawing);  // may say that it can not be made
  }
}

TEST_CASE("fonts: signs, accents, Greek and Cyrillic of the trade are in the built-in fonts") {
  const Picture box = picture_of("\u0378");  // a code point that Unicode has not given away
  for (const std::string sign : {"µ", "μ", "Ω", "Δ", "°", "²", "√", "é", "ě", "ß", "ø", "Å",
                                 "ő", "ş", "λ", "Ж", "щ", "ї", "≤", "×", "·", "→", "½"}) {
    INFO(sign);
    const Drawing drawing = drawn(sign, {});
    CHECK(drawing.unreadable.empty());
    const Picture picture = picture_of(sign);
    CHECK(inked(picture) > 2);
    CHECK(picture.grey != box.grey);
    const Result<std::string> svg = write_svg(drawing);
    REQUIRE(svg);
    const std::vector<std::string> files = embedded_fonts(*svg);
    REQUIRE(files.size() == 1);
    const std::string shaped =
        run_command("hb-shape --no-glyph-names --no-positions --no-clusters '" + files[0] + "' '" +
                    sign + "'")
            .output;
    CHECK(shaped != "[0]\n");
    const Result<std::string> pdf = write_pdf(drawing);
    REQUIRE(pdf);
    const std::string path = write_scratch("sign.pdf", *pdf);
    CHECK_THAT(run_command("pdftotext '" + path + "' -").output, Catch::Contains(sign));
  }
}

TEST_CASE("fonts: the PDF gives back words of Hebrew and Arabic, also between Latin ones") {
  const Result<std::string> pdf = write_pdf(drawn("panel שלום 16 غسالة", {}));
  REQUIRE(pdf);
  const std::string path = write_scratch("backward.pdf", *pdf);
  const std::string text = run_command("pdftotext '" + path + "' -").output;
  for (const std::string word : {"panel", "שלום", "16", "غسالة"}) {
    INFO(word);
    CHECK_THAT(text, Catch::Contains(word));
  }
}

TEST_CASE("fonts: an SVG line that is read from right to left says so and stays in its place") {
  diagram::Group group = text_group("לוח ראשי 2", {10.0, 20.0});
  diagram::Text end;
  end.at = {200.0, 30.0};
  end.text = "לוח A";
  end.anchor = diagram::Anchor::end;
  group.items.push_back(end);
  const Result<Drawing> drawing = render(document_of(group), built_in_symbols());
  REQUIRE(drawing);
  const Result<std::string> svg = write_svg(*drawing);
  REQUIRE(svg);
  // The start of such a line is its right end; ours is held at the left.
  CHECK_THAT(*svg, Catch::Contains("<text x=\"10\" y=\"20\" font-size=\"3.52\" direction=\"rtl\" "
                                   "text-anchor=\"end\">לוח ראשי 2</text>"));
  CHECK_THAT(*svg, Catch::Contains("<text x=\"200\" y=\"30\" font-size=\"3.52\" "
                                   "direction=\"rtl\">לוח A</text>"));
}

TEST_CASE("fonts: characters that no font has are told with their text and place, once") {
  diagram::Group group = text_group("盤 配配");
  group.id = "-F5";
  group.items.push_back(group.items[0]);
  diagram::Document document = document_of(group);
  document.sheets.push_back(document.sheets[0]);
  document.sheets[1].name = "boards-2";
  const Result<Drawing> drawing = render(document, built_in_symbols());
  REQUIRE(drawing);
  CHECK(drawing->unreadable ==
        std::vector<UnreadableText>{{"overview", "-F5", "盤 配配", U"盤配"},
                                    {"boards-2", "-F5", "盤 配配", U"盤配"}});
  CHECK(
      unreadable_notices(*drawing) ==
      std::vector<std::string>{"'盤 配配' of -F5 on sheet 'overview' and in 1 more place cannot be "
                               "read as drawn: no font has 盤 (U+76E4), 配 (U+914D)",
                               "give a font that has these characters: --font FILE"});
  CHECK(unreadable_notices(drawn("B16 é", {})).empty());
}

TEST_CASE("fonts: of many texts that cannot be read the first are told, and how many there are") {
  diagram::Group group;
  for (int i = 0; i < 25; ++i) {
    diagram::Text text;
    text.text = fmt::format("配 {}", i);
    group.items.push_back(text);
  }
  const Result<Drawing> drawing = render(document_of(group), built_in_symbols());
  REQUIRE(drawing);
  const std::vector<std::string> notices = unreadable_notices(*drawing);
  REQUIRE(notices.size() == 12);
  CHECK(notices[10] == "and 15 more texts");
}
