// The PDF and PNG as qpdf, poppler and libpng see them.
#include "drawing/pdf.hpp"

#include <cmath>
#include <cstdlib>
#include <sstream>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "drawing/png.hpp"
#include "drawing/symbol_table.hpp"
#include "drawing/tools.hpp"
#include "symbol_document.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;
using namespace linewright::tests;

// One of the review sheets, that with the meters and loads.
diagram::Sheet sheet_of_symbols() {
  diagram::Sheet sheet = symbol_document({}).sheets.back();
  sheet.name = "symbols";
  return sheet;
}

// Two sheets with every kind of item and a link each way.
diagram::Document two_sheets() {
  diagram::Group first = text_group("µ Ω Δ ° ² √ Ж é → 5×16 mm²", {20, 20});
  first.id = "-X1";
  first.items.push_back(diagram::Link{{20, 15, 40, 6}, "symbols#meter"});
  first.items.push_back(diagram::Polyline{{{20, 40}, {60, 40}}, diagram::Stroke::mechanical});
  first.items.push_back(
      diagram::Box{{20, 50, 30, 20}, diagram::Stroke::boundary, diagram::Ink::pale, true});
  first.items.push_back(diagram::Dot{{30, 60}});
  diagram::Text bold;
  bold.at = {20, 90};
  bold.text = "Transfer panel →";
  bold.weight = diagram::Weight::bold;
  first.items.push_back(bold);
  diagram::Document document = document_of(first);
  document.subject = "Single-line diagram";
  document.author = "Mühle & Söhne";
  document.date = "2026-11-25";
  document.sheets.push_back(sheet_of_symbols());
  document.sheets[1].title = "Symbols (Ω)";
  diagram::Group back;
  back.items.push_back(diagram::Link{{5, 5, 10, 5}, "-X1"});
  document.sheets[1].groups.push_back(back);
  return document;
}

std::string pdf_of(const diagram::Document& document, const PdfOptions& options = {}) {
  const Result<Drawing> drawing = render(document, built_in_symbols());
  if (!drawing) FAIL(drawing.error().message);
  const Result<std::string> pdf = write_pdf(*drawing, options);
  if (!pdf) FAIL(pdf.error().message);
  return *pdf;
}

std::string output_of(const std::string& command) {
  const CommandOutcome outcome = run_command(command);
  INFO(command << "\n" << outcome.output);
  REQUIRE(outcome.exit == 0);
  return outcome.output;
}

// Big-endian number in the header of a PNG: width at byte 16, height at byte 20.
int png_size(const std::string& png, std::size_t at) {
  int value = 0;
  for (std::size_t i = 0; i < 4; ++i)
    value = value * 256 + static_cast<unsigned char>(png[at + i]);
  return value;
}

}  // namespace

TEST_CASE("pdf: qpdf finds nothing to complain about") {
  const std::string path = write_scratch("sound.pdf", pdf_of(two_sheets()));
  CHECK_THAT(output_of("qpdf --check '" + path + "'"), Catch::Contains("No syntax or stream"));
}

TEST_CASE("pdf: its text is found by pdftotext, signs included") {
  const std::string path = write_scratch("text.pdf", pdf_of(two_sheets()));
  const std::string text = output_of("pdftotext -f 1 -l 1 '" + path + "' -");
  for (const std::string sign :
       {"µ", "Ω", "Δ", "°", "²", "√", "Ж", "é", "→", "5×16 mm²", "Transfer panel"}) {
    INFO(text);
    CHECK_THAT(text, Catch::Contains(sign));
  }
  CHECK_THAT(output_of("pdftotext -f 2 -l 2 '" + path + "' -"), Catch::Contains("kWh"));
}

TEST_CASE("pdf: text stands where the sheet says and is as wide as measured") {
  const diagram::Document document = document_of(text_group("Switch-disconnector", {100, 200}));
  const std::string path = write_scratch("place.pdf", pdf_of(document));
  const std::string box = output_of("pdftotext -bbox '" + path + "' -");
  const auto value = [&](const std::string& name) {
    const std::size_t at = box.find(name + "=\"");
    REQUIRE(at != std::string::npos);
    return std::strtod(box.c_str() + at + name.size() + 2, nullptr) / 72.0 * 25.4;
  };
  CHECK(value("xMin") == Approx(100.0).margin(0.05));
  CHECK(value("xMax") - value("xMin") ==
        Approx(text_width("Switch-disconnector", 2.5, diagram::Weight::regular)).epsilon(0.005));
  CHECK(value("yMin") < 200.0);
  CHECK(value("yMax") > 200.0);
}

TEST_CASE("pdf: every font is embedded and cut to what is used") {
  const std::string path = write_scratch("fonts.pdf", pdf_of(two_sheets()));
  const std::string fonts = output_of("pdffonts '" + path + "'");
  std::size_t count = 0;
  std::istringstream lines(fonts);
  for (std::string line; std::getline(lines, line);) {
    if (line.find("TrueType") == std::string::npos) continue;
    ++count;
    INFO(line);
    CHECK_THAT(line, Catch::Contains("yes yes yes"));  // embedded, subset, with Unicode
  }
  CHECK(count >= 3);
}

TEST_CASE("pdf: metadata, outline, page labels and links are there") {
  const std::string path = write_scratch("parts.pdf", pdf_of(two_sheets()));
  const std::string info = output_of("TZ=UTC pdfinfo -isodates '" + path + "'");
  CHECK_THAT(info, Catch::Contains("House at the mill"));
  CHECK_THAT(info, Catch::Contains("Single-line diagram"));
  CHECK_THAT(info, Catch::Contains("Mühle & Söhne"));
  CHECK_THAT(info, Catch::Contains("Overview, Symbols (Ω)"));
  CHECK_THAT(info, Catch::Contains("Creator:         Linewright"));
  CHECK_THAT(info, Catch::Contains("2026-11-25T00:00:00Z"));
  CHECK_THAT(info, Catch::Contains("1190.55 x 841.89"));  // A3: 420 x 297 mm at 72 points an inch

  const nlohmann::json parts = nlohmann::json::parse(output_of("qpdf --json '" + path + "'"));
  REQUIRE(parts["outlines"].size() == 2);
  CHECK(parts["outlines"][0]["title"] == "Overview");
  CHECK(parts["outlines"][0]["destpageposfrom1"] == 1);
  CHECK(parts["outlines"][1]["title"] == "Symbols (Ω)");
  CHECK(parts["outlines"][1]["destpageposfrom1"] == 2);
  CHECK(parts["pagelabels"][0]["label"]["/P"] == "u:Sheet ");

  const std::string plain = output_of("qpdf --qdf --object-streams=disable '" + path + "' -");
  CHECK_THAT(plain, Catch::Contains("/Dest (sheet2.idmeter)"));
  CHECK_THAT(plain, Catch::Contains("/Dest (sheet1.id-X1)"));
  CHECK_THAT(plain, Catch::Contains("(sheet1.id-X1)\n"));
  // 20 mm from the left is 56.69 points; 297 - 15 mm from the bottom is 799.37 points.
  CHECK_THAT(plain, Catch::Contains("56.69"));
  CHECK_THAT(plain, Catch::Contains("799.369"));
}

TEST_CASE("pdf: bookmarks lead to boards and what stands in them, on paper of any size") {
  diagram::Document document;
  document.sheets = {{.name = "overview", .title = "Overview"},
                     {.name = "boards-2", .title = "Boards +A3", .width = 210.0, .height = 297.0}};
  const auto frame = [](const char* id, const char* title, diagram::Rect rect) {
    diagram::Group group{.kind = "boundary", .id = id, .title = title};
    group.items.emplace_back(diagram::Box{.rect = rect});
    return group;
  };
  const auto element = [](const char* id, diagram::Point at) {
    diagram::Group group{.kind = "element", .id = id, .title = "breaker"};
    group.items.emplace_back(diagram::Text{.at = at, .text = id});
    return group;
  };
  document.sheets[0].groups = {frame("+A1", "+A1 Main board", {50.0, 50.0, 100.0, 60.0}),
                               element("-Q1", {60.0, 70.0}), element("-G1", {200.0, 30.0})};
  document.sheets[1].groups = {frame("+A3", "+A3 Shed", {30.0, 40.0, 90.0, 60.0}),
                               element("-F1", {40.0, 60.0})};
  const std::string path = write_scratch("bookmarks.pdf", pdf_of(document));
  const nlohmann::json parts = nlohmann::json::parse(output_of("qpdf --json '" + path + "'"));
  const nlohmann::json& sheets = parts["outlines"];
  REQUIRE(sheets.size() == 2);
  REQUIRE(sheets[0]["kids"].size() == 2);
  CHECK(sheets[0]["kids"][0]["title"] == "+A1 Main board");
  REQUIRE(sheets[0]["kids"][0]["kids"].size() == 1);
  CHECK(sheets[0]["kids"][0]["kids"][0]["title"] == "-Q1 breaker");
  CHECK(sheets[0]["kids"][1]["title"] == "-G1 breaker");
  CHECK(sheets[1]["kids"][0]["title"] == "+A3 Shed");
  const std::string plain = output_of("qpdf --qdf --object-streams=disable '" + path + "' -");
  CHECK_THAT(plain, Catch::Contains("(sheet1.id-Q1)"));
  CHECK_THAT(plain, Catch::Contains("(sheet2.id_2BA3)"));
  CHECK(output_of("qpdf --check '" + path + "' 2>&1").find("WARNING") == std::string::npos);
}

TEST_CASE("pdf: two runs give the same bytes, with and without a date") {
  diagram::Document document = two_sheets();
  CHECK(pdf_of(document) == pdf_of(document));
  document.date.clear();
  CHECK(pdf_of(document) == pdf_of(document));
  CHECK(pdf_of(document, {.created = "2026-01-02T03:04:05Z"}) != pdf_of(document));
}

TEST_CASE("pdf: what is no date, and a drawing without sheets, are refused") {
  Drawing drawing;
  CHECK_FALSE(write_pdf(drawing));
  drawing.sheets.emplace_back();
  CHECK(write_pdf(drawing));
  CHECK_FALSE(write_pdf(drawing, {.created = "yesterday"}));
  CHECK_FALSE(write_pdf(drawing, {.created = "2026-11-25T00:00:00+1"}));
}

TEST_CASE("pdf: seconds since 1970 become a time") {
  CHECK(*time_of_epoch("0") == "1970-01-01T00:00:00Z");
  CHECK(*time_of_epoch("951827696") == "2000-02-29T12:34:56Z");  // date -u -d @951827696
  CHECK(*time_of_epoch("1798761599") == "2026-12-31T23:59:59Z");
  CHECK(*time_of_epoch("4107542400") == "2100-03-01T00:00:00Z");  // 2100 is no leap year
  CHECK(*time_of_epoch("253402300799") == "9999-12-31T23:59:59Z");
  CHECK_FALSE(time_of_epoch("-1"));
  CHECK_FALSE(time_of_epoch("12x"));
  CHECK_FALSE(time_of_epoch(""));
  CHECK_FALSE(time_of_epoch("99999999999999999999"));
}

TEST_CASE("png: the picture has the size of the paper at the resolution") {
  const Result<Drawing> drawing = render(two_sheets(), built_in_symbols());
  REQUIRE(drawing);
  const Result<std::string> png = write_png(*drawing, {.sheet = 0, .dpi = 100.0});
  REQUIRE(png);
  CHECK(png_size(*png, 16) == 1654);  // 420 / 25.4 x 100 = 1653.5
  CHECK(png_size(*png, 20) == 1169);  // 297 / 25.4 x 100 = 1169.3
  CHECK(*png == *write_png(*drawing, {.sheet = 0, .dpi = 100.0}));
  CHECK_FALSE(write_png(*drawing, {.sheet = 2, .dpi = 100.0}));
  CHECK_FALSE(write_png(*drawing, {.sheet = 0, .dpi = 0.0}));
  CHECK_FALSE(write_png(*drawing, {.sheet = 0, .dpi = std::nan("")}));
}

TEST_CASE("png: a resolution beyond what a picture can hold is lowered") {
  diagram::Sheet strip;
  strip.width = 5000.0;
  strip.height = 2.0;
  const Result<Drawing> drawing = render(strip, built_in_symbols());
  REQUIRE(drawing);
  const Result<std::string> png = write_png(*drawing, {.sheet = 0, .dpi = 1e9});
  REQUIRE(png);
  CHECK(png_size(*png, 16) == 32'767);
}

TEST_CASE("png: ink is where the sheet has it and paper is white") {
  diagram::Group group;
  group.items.push_back(diagram::Polyline{{{10, 10}, {30, 10}}, diagram::Stroke::busbar});
  diagram::Sheet sheet;
  sheet.width = 40.0;
  sheet.height = 20.0;
  sheet.groups.push_back(group);
  const Result<Drawing> drawing = render(sheet, built_in_symbols());
  REQUIRE(drawing);
  const Result<std::string> png = write_png(*drawing, {.sheet = 0, .dpi = 254.0});
  REQUIRE(png);
  const Picture picture = read_png(*png);
  CHECK(picture.at(200, 100) == 0);
  CHECK(picture.at(200, 96) == 0);  // a busbar is 1 mm wide: 9.5 to 10.5 mm
  CHECK(picture.at(200, 93) == 255);
  CHECK(picture.at(97, 100) == 255);  // and has no round end before 10 mm
  CHECK(picture.at(0, 0) == 255);
}
