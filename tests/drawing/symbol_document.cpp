// The review sheets: every symbol once, on its grid, nothing over anything.
#include "symbol_document.hpp"

#include <cmath>
#include <map>
#include <set>

#include <catch2/catch.hpp>

#include "diagram/paper.hpp"
#include "diagram/sketch.hpp"
#include "drawing/display_list.hpp"
#include "drawing/metrics.hpp"
#include "linewright.hpp"

namespace {

using namespace linewright;
using diagram::Rect;

const diagram::Document& document() {
  static const diagram::Document known = symbol_document({});
  return known;
}

std::vector<Rect> texts_of(const diagram::Group& group, const diagram::Metrics& metrics) {
  std::vector<Rect> out;
  for (const diagram::Item& item : group.items)
    if (const auto* text = std::get_if<diagram::Text>(&item))
      out.push_back(diagram::ink_of(metrics, *text));
  return out;
}

Rect ink_of_symbol(const diagram::SymbolUse& use, const diagram::Metrics& metrics) {
  const Rect& bounds = metrics.symbols.at(use.symbol).bounds;
  return {use.at.x + bounds.x, use.at.y + bounds.y, bounds.width, bounds.height};
}

}  // namespace

TEST_CASE("symbol sheets: every symbol is there once, with its words and the names of its ports") {
  std::map<std::string, const diagram::Group*> groups;
  for (const diagram::Sheet& sheet : document().sheets)
    for (const diagram::Group& group : sheet.groups)
      if (group.kind == "legend") CHECK(groups.emplace(group.id, &group).second);
  const drawing::SymbolLibrary library = drawing::built_in_symbols();
  REQUIRE(groups.size() == library.size());
  for (const auto& [name, symbol] : library) {
    INFO(name);
    std::string words;
    for (const diagram::Item& item : groups.at(name)->items)
      if (const auto* text = std::get_if<diagram::Text>(&item)) words += text->text + "|";
    CHECK_THAT(words, Catch::Contains("|" + name + "|"));
    for (const diagram::Port& port : symbol.ports)
      CHECK_THAT("|" + words, Catch::Contains("|" + port.name + "|"));
    CHECK_FALSE(symbol.family.empty());
  }
}

TEST_CASE("symbol sheets: the origin of each symbol stands where two lines of its grid cross") {
  for (const diagram::Sheet& sheet : document().sheets) {
    for (const diagram::Group& group : sheet.groups) {
      if (group.kind != "legend") continue;
      INFO(group.id);
      const auto& corner = std::get<diagram::Polyline>(group.items.front()).points.front();
      for (const diagram::Item& item : group.items) {
        const auto* use = std::get_if<diagram::SymbolUse>(&item);
        if (use == nullptr) continue;
        for (const double way : {use->at.x - corner.x, use->at.y - corner.y})
          CHECK(std::abs(way / 2.5 - std::round(way / 2.5)) < 1e-9);
      }
    }
  }
}

TEST_CASE("symbol sheets: no word lies over another, over a symbol or beyond the frame") {
  const diagram::Metrics metrics = drawing::metrics();
  for (const diagram::Sheet& sheet : document().sheets) {
    const Rect frame = diagram::frame_of(sheet);
    std::vector<Rect> all;
    for (const diagram::Group& group : sheet.groups) {
      if (group.kind == "frame") continue;
      INFO(sheet.name << " " << group.id);
      const std::vector<Rect> texts = texts_of(group, metrics);
      for (const Rect& text : texts) {
        for (const Rect& other : all)
          CHECK_FALSE(diagram::overlap(text, other));
        CHECK(text.x >= frame.x);
        CHECK(text.y >= frame.y);
        CHECK(text.x + text.width <= frame.x + frame.width);
        CHECK(text.y + text.height <= frame.y + frame.height);
        for (const diagram::Item& item : group.items)
          if (const auto* use = std::get_if<diagram::SymbolUse>(&item))
            CHECK_FALSE(diagram::overlap(text, ink_of_symbol(*use, metrics)));
        all.push_back(text);
      }
    }
  }
}

TEST_CASE("symbol sheets: the sheets are filled alike") {
  std::vector<double> lowest;
  for (const diagram::Sheet& sheet : document().sheets) {
    double y = 0.0;
    for (const diagram::Group& group : sheet.groups)
      if (group.kind == "legend")
        for (const Rect& text : texts_of(group, drawing::metrics()))
          y = std::max(y, text.y + text.height);
    lowest.push_back(y);
  }
  REQUIRE(lowest.size() > 1);
  CHECK(*std::max_element(lowest.begin(), lowest.end()) -
            *std::min_element(lowest.begin(), lowest.end()) <
        75.0);
}

TEST_CASE("symbol sheets: symbols of the user stand on them, large ones too") {
  drawing::Material material;
  drawing::Symbol large;
  large.name = "large";
  large.title = "a large one";
  large.outlines.push_back({drawing::rectangle({-49, 0, 98, 98})});
  large.ports.push_back({"1", {0.0, 0.0}});
  material.symbols.emplace("large", large);
  const diagram::Document with = symbol_document(material, "2026-11-25");
  std::set<std::string> names;
  for (const diagram::Sheet& sheet : with.sheets)
    for (const diagram::Group& group : sheet.groups)
      names.insert(group.id);
  CHECK(names.contains("large"));
  CHECK(with.date == "2026-11-25");
  CHECK(drawing::render(with, material.symbols));
}

TEST_CASE("symbol sheets: they come as PDF, SVG and PNG") {
  const Result<Drawn> drawn = draw_symbols({.dots_per_inch = 50.0, .file_stem = "symbols"});
  REQUIRE(drawn);
  CHECK(drawn->pdf.starts_with("%PDF"));
  REQUIRE(drawn->sheets.size() == document().sheets.size());
  CHECK(drawn->sheets[0].name == "1");
  CHECK(drawn->sheets[0].png.starts_with("\x89PNG"));
  CHECK(drawn->notices.empty());
}
