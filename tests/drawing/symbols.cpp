// The symbol files, how they are read, and whether we draw what they show.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include <catch2/catch.hpp>

#include "drawing/metrics.hpp"
#include "drawing/png.hpp"
#include "drawing/symbol_file.hpp"
#include "drawing/symbol_table.hpp"
#include "drawing/text.hpp"
#include "drawing/tools.hpp"
#include "support/paths.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;
using namespace linewright::tests;

std::string symbol_path(const std::string& name) {
  return source_folder() + "/symbols/" + name + ".svg";
}

std::vector<std::string> file_names() {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(source_folder() + "/symbols")) {
    if (entry.path().extension() == ".svg") out.push_back(entry.path().stem().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

// The smallest sound symbol, with other content in place of its line.
std::string symbol_with(const std::string& content) {
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-5 -1 10 17\" width=\"10mm\" "
         "height=\"17mm\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"0.3\">\n"
         "<title>t</title>\n" +
         content + "\n<circle id=\"port-1\" cx=\"0\" cy=\"0\" r=\"0.5\" stroke=\"none\"/></svg>";
}

Picture drawn_by_us(const Symbol& symbol, double dpi) {
  diagram::Sheet sheet;
  sheet.width = symbol.canvas.width;
  sheet.height = symbol.canvas.height;
  diagram::Group group;
  group.items.push_back(diagram::SymbolUse{symbol.name, {-symbol.canvas.x, -symbol.canvas.y}, 0});
  sheet.groups.push_back(group);
  const Result<Drawing> drawing = render(sheet, built_in_symbols());
  REQUIRE(drawing);
  const Result<std::string> png = write_png(*drawing, {0, dpi});
  REQUIRE(png);
  return read_png(*png);
}

Picture drawn_by_rsvg(const Symbol& symbol, int dpi) {
  const std::string out = write_scratch(symbol.name + ".png", "");
  const std::string resolution = std::to_string(dpi);
  const CommandOutcome outcome =
      run_command("rsvg-convert -d " + resolution + " -p " + resolution +
                  " --background-color=white -o '" + out + "' '" + symbol_path(symbol.name) + "'");
  INFO(outcome.output);
  REQUIRE(outcome.exit == 0);
  return read_png(read_file(out));
}

// Marks are set in whatever font the machine has, so they are left out of the comparison.
bool in_a_mark(const Symbol& symbol, double x, double y) {
  return std::any_of(symbol.texts.begin(), symbol.texts.end(), [&](const SymbolText& text) {
    const double half = text_width(text.text, text.height, diagram::Weight::regular) / 2.0 + 1.0;
    return std::abs(x - text.at.x) < half && y < text.at.y + 0.8 &&
           y > text.at.y - text.height - 0.8;
  });
}

// The darkest or lightest pixel of the 3 x 3 round a place comes closest to the wanted one: edges
// may lie half a pixel apart, strokes may not be missing.
int nearest_difference(const Picture& picture, int x, int y, int wanted) {
  int low = 255;
  int high = 0;
  for (int j = std::max(0, y - 1); j <= std::min(picture.height - 1, y + 1); ++j) {
    for (int i = std::max(0, x - 1); i <= std::min(picture.width - 1, x + 1); ++i) {
      low = std::min(low, picture.at(i, j));
      high = std::max(high, picture.at(i, j));
    }
  }
  return std::max({0, low - wanted, wanted - high});
}

}  // namespace

TEST_CASE("symbols: the built-in table holds every file, as the file is") {
  const SymbolLibrary library = built_in_symbols();
  const std::vector<std::string> names = file_names();
  CHECK(library.size() == names.size());
  for (const std::string& name : names) {
    INFO(name);
    const SymbolResult symbol = parse_symbol({symbol_path(name), read_file(symbol_path(name))});
    if (!symbol) FAIL(symbol.error().front());
    const auto built_in = library.find(name);
    REQUIRE(built_in != library.end());
    CHECK(built_in->second.title == symbol->title);
    CHECK(built_in->second.description == symbol->description);
    CHECK(built_in->second.outlines == symbol->outlines);
    CHECK(built_in->second.texts == symbol->texts);
    REQUIRE(built_in->second.ports.size() == symbol->ports.size());
  }
}

TEST_CASE("symbols: ports lie on the 2.5 mm module and at an end of ink") {
  for (const auto& [name, symbol] : built_in_symbols()) {
    INFO(name);
    const diagram::Rect ink = ink_bounds(symbol);
    for (const diagram::Port& port : symbol.ports) {
      INFO(port.name);
      CHECK(std::fmod(port.at.x, 2.5) == 0.0);
      CHECK(std::fmod(port.at.y, 2.5) == 0.0);
      CHECK(port.at.x >= ink.x);
      CHECK(port.at.x <= ink.x + ink.width);
      CHECK(port.at.y >= ink.y);
      CHECK(port.at.y <= ink.y + ink.height);
    }
  }
}

TEST_CASE("symbols: devices in a column run from (0, 0) to (0, 15), those with a ring to 20") {
  const SymbolLibrary library = built_in_symbols();
  const auto [name, length] =
      GENERATE(table<std::string, double>({{"make-contact", 15},
                                           {"disconnector", 15},
                                           {"switch-disconnector", 15},
                                           {"circuit-breaker", 15},
                                           {"circuit-breaker-isolating", 15},
                                           {"contactor", 15},
                                           {"fuse", 15},
                                           {"fuse-switch-disconnector", 15},
                                           {"spd", 15},
                                           {"meter", 15},
                                           {"meter-two-way", 15},
                                           {"transformer", 15},
                                           {"neutral-earth-link", 15},
                                           {"neutral-earth-contact", 15},
                                           {"inlet", 15},
                                           {"rcd", 20},
                                           {"rcbo", 20}}));
  INFO(name);
  REQUIRE(library.contains(name));
  const std::vector<diagram::Port>& ports = library.find(name)->second.ports;
  REQUIRE(ports.size() == 2);
  CHECK(ports[0].name == "1");
  CHECK(ports[0].at == diagram::Point{0, 0});
  CHECK(ports[1].name == "2");
  CHECK(ports[1].at == diagram::Point{0, length});
}

TEST_CASE("symbols: a breaker with RCD fits a column of 10 mm") {
  CHECK(metrics().symbols.find("rcbo")->second.bounds.width < 7.5);
}

TEST_CASE("symbols: ours and librsvg's pictures of each file agree") {
  constexpr int dpi = 254;        // 10 pixels a millimetre
  constexpr int tolerance = 110;  // of 255, at the nearest of 3 x 3 pixels
  for (const auto& [name, symbol] : built_in_symbols()) {
    INFO(name);
    const Picture ours = drawn_by_us(symbol, dpi);
    const Picture theirs = drawn_by_rsvg(symbol, dpi);
    REQUIRE(ours.width == theirs.width);
    REQUIRE(ours.height == theirs.height);
    int wrong = 0;
    int inked = 0;
    for (int y = 0; y < ours.height; ++y) {
      for (int x = 0; x < ours.width; ++x) {
        if (in_a_mark(symbol, symbol.canvas.x + x / 10.0, symbol.canvas.y + y / 10.0)) continue;
        if (theirs.at(x, y) < 128) ++inked;
        if (nearest_difference(ours, x, y, theirs.at(x, y)) > tolerance ||
            nearest_difference(theirs, x, y, ours.at(x, y)) > tolerance) {
          ++wrong;
        }
      }
    }
    CHECK(inked > 10);
    CHECK(wrong == 0);
  }
}

TEST_CASE("symbols: a turned symbol turns clockwise, its mark stays upright") {
  diagram::Sheet sheet;
  diagram::Group group;
  group.items.push_back(diagram::SymbolUse{"meter", {100, 100}, 1});
  sheet.groups.push_back(group);
  const Result<Drawing> drawing = render(sheet, built_in_symbols());
  REQUIRE(drawing);
  const auto& marks = drawing->sheets[0].groups[0].marks;
  REQUIRE(marks.size() == 2);
  CHECK(std::get<Placement>(marks[0]).quarter_turns == 1);
  const auto& text = std::get<Lettering>(marks[1]);
  // kWh stands at (0, 9.9) with 1.8 mm capitals, so its middle (0, 9.0) goes to (-9.0, 0).
  CHECK(text.at.x == Approx(91.0));
  CHECK(text.at.y == Approx(100.9));
  CHECK(text.turn == diagram::Turn::upright);
}

TEST_CASE("symbols: the reader names file and line of what it does not support") {
  const std::string line = "<path d=\"M0 0V5\"/>";
  REQUIRE(parse_symbol({"x.svg", symbol_with(line)}));
  const auto [content, message] = GENERATE_COPY(table<std::string, std::string>({
      {"<path d=\"M0 0V5\" transform=\"scale(2)\"/>", "x.svg:3: attribute 'transform'"},
      {"<path d=\"M0 0V5\" style=\"fill:red\"/>", "x.svg:3: attribute 'style'"},
      {"<path d=\"M0 0V5\" stroke=\"red\"/>", "x.svg:3: stroke 'red' must be"},
      {"<path d=\"M0 0V5\" fill=\"url(#a)\"/>", "x.svg:3: fill 'url(#a)' must be"},
      {"<path d=\"M0 0V5\" stroke-width=\"0\"/>", "x.svg:3: attribute 'stroke-width' must be"},
      {"<path d=\"M0 0V\"/>", "x.svg:3: attribute 'd': column 6"},
      {"\n<image/>" + line, "x.svg:4: element 'image' is not supported"},
      {"<script>1</script>" + line, "x.svg:3: element 'script'"},
      {"<use href=\"#a\"/>" + line, "x.svg:3: attribute 'href'"},
      {line + "<circle id=\"port-2\" cx=\"0\" cy=\"6\" r=\"1\"/>",
       "x.svg:3: port '2' at (0, 6) is off the 2.5 mm grid"},
      {line + "<circle id=\"port-1\" cx=\"0\" cy=\"5\" r=\"1\"/>", "port '1' is there twice"},
      {line + "<circle id=\"port-\" cx=\"0\" cy=\"5\" r=\"1\"/>", "a port needs a name"},
      {"<circle r=\"1mm\"/>", "x.svg:3: attribute 'r': column 2"},
      {"<rect width=\"-1\" height=\"1\"/>", "x.svg:3: attribute 'width' must be more than 0"},
      {"<rect width=\"1\" height=\"1\" rx=\"1\"/>", "round corners are not supported"},
      {"<polyline points=\"0 0 1\"/>", "x.svg:3: attribute 'points'"},
      {"<path d=\"M0 0V5\" stroke-dasharray=\"1 -1\"/>", "stroke-dasharray must be pairs"},
      {"<path d=\"M0 0V50\"/>", "x.svg:3: the outline reaches beyond the viewBox"},
      {"loose words" + line, "text stands outside a text element"},
      {line + "<text x=\"0\" y=\"0\" text-anchor=\"middle\">a</text>", "a text needs a font-size"},
      {line + "<text x=\"0\" y=\"0\" font-size=\"2\">a</text>", "text-anchor=\"middle\""},
      {"", "x.svg:1: a symbol needs an outline"},
      {line + "<g>", "x.svg:"},
  }));
  INFO(content);
  const SymbolResult symbol = parse_symbol({"x.svg", symbol_with(content)});
  REQUIRE_FALSE(symbol);
  CHECK_THAT(symbol.error().front(), Catch::Contains(message));
}

TEST_CASE("symbols: title, port, size in mm and a plausible file are asked for") {
  const std::string sound = symbol_with("<path d=\"M0 0V5\"/>");
  const auto without = [&](const std::string& what) {
    std::string text = sound;
    text.erase(text.find(what), what.size());
    return text;
  };
  CHECK_FALSE(parse_symbol({"x.svg", without("<title>t</title>")}));
  CHECK_FALSE(parse_symbol({"x.svg", without(" width=\"10mm\"")}));
  CHECK_FALSE(parse_symbol({"x.svg", without(" viewBox=\"-5 -1 10 17\"")}));
  CHECK_FALSE(parse_symbol({"x.svg", without("<circle id=\"port-1\" cx=\"0\" cy=\"0\" r=\"0.5\" "
                                             "stroke=\"none\"/>")}));
  CHECK_FALSE(parse_symbol({"x.svg", ""}));
  CHECK_FALSE(parse_symbol({"x.svg", "<html/>"}));
  CHECK_FALSE(parse_symbol({"x.svg", sound + std::string(100'000, ' ')}));
}
