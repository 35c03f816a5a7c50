// Symbols of the user: what is taken, what is refused, and that the layout sees their sizes.
#include "drawing/material.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "drawing/metrics.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;

struct PortAt {
  std::string name;
  std::string x;
  std::string y;
};

// A box with a line up to its port "1" and down to the lower edge of its canvas.
std::string box(const std::vector<PortAt>& ports, const std::string& width = "20mm") {
  std::string text =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-10 -1 20 32\" width=\"" + width +
      "\" height=\"32mm\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"0.3\">\n"
      "<title>my own</title>\n"
      "<path d=\"M0 0V5M0 25V30\"/><rect x=\"-8\" y=\"5\" width=\"16\" height=\"20\"/>\n";
  for (const PortAt& port : ports)
    text += fmt::format("<circle id=\"port-{}\" cx=\"{}\" cy=\"{}\" r=\"0.5\" stroke=\"none\"/>\n",
                        port.name, port.x, port.y);
  return text + "</svg>\n";
}

const std::vector<PortAt> column{{"1", "0", "0"}, {"2", "0", "30"}};

std::vector<std::string> mistakes_of(const std::vector<SymbolFile>& files) {
  return read_material(files, {}).mistakes;
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("material: a symbol of a new name stands beside the built-in ones") {
  const MaterialRead read = read_material({{"my/water-wheel.svg", box(column)}}, {});
  CHECK(read.mistakes.empty());
  CHECK(read.material.symbols.size() == built_in_symbols().size() + 1);
  CHECK(read.material.symbols.at("water-wheel").title == "my own");
}

TEST_CASE("material: a symbol of a built-in name goes before that one, its size is the layout's") {
  const MaterialRead read = read_material({{"my/fuse.svg", box(column)}}, {});
  REQUIRE(read.mistakes.empty());
  CHECK(read.material.symbols.size() == built_in_symbols().size());
  CHECK(read.material.symbols.at("fuse").family == built_in_symbols().at("fuse").family);
  const diagram::Metrics seen = metrics(read.material.symbols);
  const diagram::SymbolShape& shape = seen.symbols.at("fuse");
  CHECK(shape.title == "my own");
  CHECK(shape.bounds.width == Approx(16.3));  // 16 mm and half a pen of 0.3 mm at either side
  CHECK(shape.bounds.height == Approx(30.3));
  REQUIRE(shape.ports.size() == 2);
  CHECK(shape.ports[1].at == diagram::Point{0.0, 30.0});
}

TEST_CASE("material: a port off the grid is refused with file, port, place and nearest point") {
  CHECK(mistakes_of({{"my/wheel.svg", box({{"1", "0", "0"}, {"out", "0.4", "28.7"}})}}) ==
        Lines{"my/wheel.svg:5: port 'out' at (0.4, 28.7) is off the 2.5 mm grid; the nearest point "
              "is (0, 27.5)"});
  CHECK(mistakes_of({{"my/wheel.svg", box({{"1", "-0.1", "0"}})}}) ==
        Lines{"my/wheel.svg:4: port '1' at (-0.1, 0) is off the 2.5 mm grid; the nearest point is "
              "(0, 0)"});
  // A millionth of a module is rounding of whatever program wrote the file.
  CHECK(mistakes_of({{"my/wheel.svg", box({{"1", "0", "0.0000000001"}})}}).empty());
}

TEST_CASE("material: a port where nothing is drawn is refused") {
  CHECK(mistakes_of({{"my/wheel.svg", box({{"1", "0", "0"}, {"out", "10", "0"}})}}) ==
        Lines{"my/wheel.svg:5: port 'out' at (10, 0) is away from the outlines, so a wire would "
              "end at nothing"});
}

TEST_CASE("material: in place of a built-in symbol its ports are asked for") {
  CHECK(mistakes_of({{"my/fuse.svg", box({{"1", "0", "0"}})}}) ==
        Lines{"my/fuse.svg:1: port '2' is missing; the built-in symbol has it at (0, 15)"});
  CHECK(mistakes_of({{"my/fuse.svg", box({{"1", "0", "0"}, {"2", "5", "15"}})}}) ==
        Lines{"my/fuse.svg:5: port '2' at (5, 15) must be straight below (0, 0), as in the "
              "built-in symbol"});
  CHECK(mistakes_of({{"my/fuse.svg", box({{"1", "0", "5"}, {"2", "0", "30"}})}}) ==
        Lines{"my/fuse.svg:4: port '1' at (0, 5) must be at (0, 0), as in the built-in symbol"});
  CHECK(mistakes_of(
            {{"my/changeover.svg", box({{"I", "-5", "5"}, {"II", "5", "5"}, {"2", "0", "30"}})}})
            .size() == 3);
  CHECK(mistakes_of({{"my/fuse.svg", box({{"1", "0", "0"}, {"2", "0", "20"}, {"aux", "5", "5"}})}})
            .empty());
}

TEST_CASE("material: every mistake of every file is told at once, in the order of the files") {
  const std::string bad = box({{"1", "0", "0"}, {"2", "1", "30"}}, "21mm");
  const Lines found = mistakes_of(
      {{"my/a.svg", "<svg"}, {"my/b.svg", bad}, {"my/B c.svg", box(column)}, {"other/a.svg", ""}});
  REQUIRE(found.size() == 5);
  CHECK_THAT(found[0], Catch::StartsWith("my/a.svg:1: "));
  CHECK(found[1] ==
        "my/b.svg:1: width and height must be 20mm and 32mm as in the viewBox, so that one unit is "
        "one millimetre");
  CHECK(found[2] ==
        "my/b.svg:5: port '2' at (1, 30) is off the 2.5 mm grid; the nearest point is (0, 30)");
  CHECK(found[3] ==
        "my/B c.svg: the name of a symbol has small letters, digits and hyphens only, up to 60");
  CHECK(found[4] == "other/a.svg: the symbol 'a' is there twice");
}

TEST_CASE("material: a symbol larger than a sheet takes, or without size, is refused") {
  const auto with_box = [](const std::string& view) {
    std::string text = box(column);
    const std::string old = "-10 -1 20 32";
    text.replace(text.find(old), old.size(), view);
    return mistakes_of({{"my/w.svg", text}});
  };
  CHECK_THAT(with_box("-10 -1 2000 32").front(),
             Catch::Contains("the viewBox is 2000 by 32, must be more than 0 and up to 100"));
  CHECK_THAT(with_box("-10 -1 20 0").front(), Catch::Contains("the viewBox is 20 by 0"));
  CHECK_THAT(with_box("-10 -1 20 nan").front(), Catch::Contains("attribute 'viewBox'"));
  CHECK_THAT(with_box("-10 -1 20 32 5").front(), Catch::Contains("has 5 numbers, must have 4"));
}

TEST_CASE("material: a family that is not known is refused with those that are") {
  std::string text = box(column);
  text.insert(text.find(" viewBox"), " data-family=\"boats\"");
  CHECK(mistakes_of({{"my/w.svg", text}}) ==
        Lines{"my/w.svg:1: data-family 'boats' must be one of conductors, earthing, switching, "
              "protection, sources, measuring, loads"});
}

TEST_CASE("material: what is hostile by size or number is refused") {
  CHECK(mistakes_of({{"my/a.svg", box(column) + std::string(largest_symbol_file, ' ')}}) ==
        Lines{"my/a.svg: the file is larger than 65536 bytes"});
  std::vector<SymbolFile> many;
  for (std::size_t i = 0; i <= most_symbol_files; ++i)
    many.push_back({fmt::format("my/s{}.svg", i), box(column)});
  CHECK(mistakes_of(many) == Lines{"501 symbol files, must be 500 at most"});
  std::string groups;
  for (int i = 0; i < 9000; ++i)
    groups += "<g>";
  CHECK_FALSE(mistakes_of({{"my/deep.svg", groups}}).empty());
  std::string wrong = box(column);
  for (int i = 0; i < 1000; ++i)
    wrong.insert(wrong.find("</svg>"), "<blink/>");
  CHECK(mistakes_of({{"my/w.svg", wrong}}).size() == 20);
  std::string title = box(column);
  title.insert(title.find("my own"), std::string(100, 'x'));
  CHECK(mistakes_of({{"my/w.svg", title}}) == Lines{"my/w.svg:2: title is longer than 80 bytes"});
}

TEST_CASE("material: a font that is none is a mistake beside those of the symbols") {
  const MaterialRead read = read_material({{"my/a.svg", "<svg"}}, {{"my.ttf", "hello"}});
  REQUIRE(read.mistakes.size() == 2);
  CHECK_THAT(read.mistakes[1], Catch::StartsWith("my.ttf: is no font"));
}
