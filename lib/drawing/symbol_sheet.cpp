#include "drawing/symbol_sheet.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "drawing/metrics.hpp"
#include "drawing/text.hpp"

namespace linewright::drawing {
namespace {

constexpr double margin = 15.0;
constexpr double column_width = 32.5;
constexpr double gap = 4.0;
constexpr double text_step = 3.6;
constexpr int columns = 12;

// Words in lines no wider than a column.
std::vector<std::string> wrapped(const std::string& text, double height, diagram::Weight weight) {
  std::vector<std::string> lines;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    const std::string word = text.substr(begin, end - begin);
    const bool fits = !lines.empty() &&
                      text_width(lines.back() + " " + word, height, weight) <= column_width - gap;
    if (fits) {
      lines.back() += " " + word;
    } else {
      lines.push_back(word);
    }
    begin = end + 1;
  }
  return lines;
}

diagram::Text label(Point at, std::string text, double height) {
  diagram::Text out;
  out.at = at;
  out.text = std::move(text);
  out.height = height;
  out.anchor = diagram::Anchor::middle;
  return out;
}

// One symbol centred in its cell with its words below; `top` and `height` are of the row.
diagram::Group cell(const Symbol& symbol, double left, double top, double height) {
  const Rect ink = ink_bounds(symbol);
  const Point origin{left + column_width / 2.0 - ink.x - ink.width / 2.0,
                     top + height / 2.0 - ink.y - ink.height / 2.0};
  diagram::Group group;
  group.kind = "legend";
  group.id = symbol.name;
  group.title = symbol.title;
  group.description = symbol.description;
  group.items.push_back(diagram::SymbolUse{symbol.name, origin, 0});
  for (const diagram::Port& port : symbol.ports) {
    if (symbol.ports.size() == 1 && ink.height < 3.0 * module_mm) break;  // a mark is its own port
    const Point at{origin.x + port.at.x, origin.y + port.at.y};
    diagram::Box box;
    box.rect = grown({at.x, at.y, 0.0, 0.0}, 0.7);
    box.stroke = diagram::Stroke::hairline;
    group.items.push_back(box);
  }
  const double middle = left + column_width / 2.0;
  double y = top + height + 4.0;
  for (const std::string& line : wrapped(symbol.title, 2.5, diagram::Weight::bold)) {
    diagram::Text title = label({middle, y}, line, 2.5);
    title.weight = diagram::Weight::bold;
    group.items.push_back(title);
    y += text_step;
  }
  diagram::Text name = label({middle, y}, symbol.name, 1.8);
  name.ink = diagram::Ink::grey;
  group.items.push_back(name);
  return group;
}

double words_height(const Symbol& symbol) {
  const auto lines = wrapped(symbol.title, 2.5, diagram::Weight::bold).size();
  return 4.0 + text_step * static_cast<double>(lines + 1);
}

}  // namespace

diagram::Sheet symbol_sheet(const SymbolLibrary& symbols) {
  diagram::Sheet sheet;
  sheet.name = "symbols";
  sheet.title = "Symbols";
  std::vector<const Symbol*> list;
  for (const auto& [name, symbol] : symbols)
    list.push_back(&symbol);
  double top = margin;
  for (std::size_t i = 0; i < list.size(); i += columns) {
    const std::size_t end = std::min<std::size_t>(i + columns, list.size());
    double height = 0.0;
    double words = 0.0;
    for (std::size_t k = i; k < end; ++k) {
      height = std::max(height, ink_bounds(*list[k]).height);
      words = std::max(words, words_height(*list[k]));
    }
    for (std::size_t k = i; k < end; ++k) {
      const double left = margin + column_width * static_cast<double>(k - i);
      sheet.groups.push_back(cell(*list[k], left, top, height));
    }
    top += height + words + 2.0 * gap;
  }
  sheet.height = std::max(sheet.height, top + margin);
  return sheet;
}

}  // namespace linewright::drawing
