#include "symbol_document.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "diagram/lettering.hpp"
#include "diagram/paper.hpp"
#include "draw_document.hpp"
#include "drawing/metrics.hpp"

namespace linewright {
namespace {

using diagram::Group;
using diagram::Point;
using diagram::Rect;
using drawing::module_mm;
using drawing::Symbol;

constexpr int columns = 8;
constexpr std::size_t fewest_cells = 4;  // below the heading of a family
constexpr double edge = 5.0;             // from the frame to the first and last panel
constexpr double panel_width = 42.5;     // of one column
constexpr double column_pitch = (390.0 - 2.0 * edge - panel_width) / (columns - 1);
constexpr double row_gap = 4.5;
constexpr double heading_room = 9.0;
constexpr double label_room = 4.5;  // of port names round the ink
constexpr double side_room = 10.0;  // of port names at both sides
constexpr double mark_height = 1.8;
constexpr double port_half = 0.6;

// What the families are called on the sheets, in their order; what names none comes last.
constexpr std::array<std::string_view, drawing::symbol_families.size() + 1> headings{
    "Conductors and marks",           "Earthing",
    "Contacts and switching devices", "Protection",
    "Sources, storage, converters",   "Measuring and control",
    "Loads and connection points",    "Further symbols"};

double in_modules(double length) {
  return std::ceil(length / module_mm - 1e-9) * module_mm;
}

/// One symbol with the room it takes.
struct Cell {
  const Symbol* symbol = nullptr;
  Rect ink;
  double above = 0.0;  ///< from the top of its panel to its origin, whole modules
  double below = 0.0;
  int span = 1;  ///< columns
  std::vector<std::string> title;
  std::vector<std::string> meaning;

  double width() const { return panel_width + column_pitch * (span - 1); }
  double panel() const { return above + below; }
  double words() const {
    return 1.5 + diagram::line_pitch * static_cast<double>(title.size() + 1 + meaning.size());
  }
};

Cell cell_of(const Symbol& symbol, const drawing::Material& material,
             const diagram::Metrics& metrics) {
  Cell cell{.symbol = &symbol, .ink = drawing::ink_bounds(symbol, material.fonts)};
  const Rect& ink = cell.ink;
  cell.above = std::max(in_modules(label_room - ink.y), 3.0 * module_mm);
  cell.below = std::max(in_modules(label_room + ink.y + ink.height), 3.0 * module_mm);
  cell.span = std::clamp(
      static_cast<int>(std::ceil((ink.width + side_room - panel_width) / column_pitch)) + 1, 1,
      columns);
  cell.title = diagram::wrapped(metrics, symbol.title, cell.width(), diagram::Weight::bold);
  cell.meaning = diagram::wrapped(metrics, symbol.description, cell.width());
  return cell;
}

/// What stands side by side; the heading of a family is with its first row.
struct Row {
  std::string heading;
  double top = 0.0;
  double panel = 0.0;
  std::vector<Cell> cells;

  double height() const {
    double words = 0.0;
    for (const Cell& cell : cells)
      words = std::max(words, cell.words());
    return (heading.empty() ? 0.0 : heading_room) + panel + words;
  }
};

using Family = std::vector<Cell>;
using Page = std::vector<Row>;

// Like heights stand together, then names in order.
std::vector<Family> in_families(const drawing::Material& material,
                                const diagram::Metrics& metrics) {
  std::vector<Family> out(headings.size());
  const auto& known = drawing::symbol_families;
  for (const auto& [name, symbol] : material.symbols) {
    const auto family = std::find(known.begin(), known.end(), symbol.family) - known.begin();
    out[static_cast<std::size_t>(family)].push_back(cell_of(symbol, material, metrics));
  }
  for (Family& family : out)
    std::stable_sort(family.begin(), family.end(),
                     [](const Cell& a, const Cell& b) { return a.panel() < b.panel(); });
  return out;
}

/// Fills pages from the top; below the top of the title block only what is left of it.
struct Flow {
  const diagram::Paper& paper;
  double title_top = 0.0;
  double lowest = 0.0;  ///< no row reaches below this
  std::vector<Page> pages;
  double y = 0.0;

  int free_columns(double bottom) const {
    if (bottom > lowest) return 0;
    if (bottom <= title_top) return columns;
    return static_cast<int>((paper.title_left() - paper.frame.x - edge) / column_pitch);
  }

  static Row row_from(const Family& family, std::size_t at, int free, const std::string& heading) {
    Row row{.heading = heading};
    int used = 0;
    for (; at < family.size() && used + family[at].span <= free; ++at) {
      used += family[at].span;
      row.panel = std::max(row.panel, family[at].panel());
      row.cells.push_back(family[at]);
    }
    return row;
  }

  // The widest row that fits at the present height, or one without cells.
  Row next_row(const Family& family, std::size_t at, const std::string& heading) const {
    for (int free = columns; free > 0; --free) {
      Row row = row_from(family, at, free, heading);
      if (!row.cells.empty() && free <= free_columns(y + row.height())) return row;
    }
    return {};
  }

  // A heading with next to nothing below it is better on the next page.
  static bool is_forlorn(const Row& row, const Family& family) {
    return row.cells.empty() ||
           (!row.heading.empty() && row.cells.size() < std::min(family.size(), fewest_cells));
  }

  void new_page() {
    pages.emplace_back();
    y = paper.frame.y + edge;
  }

  void add(const Family& family, std::string_view name) {
    std::string heading(name);
    for (std::size_t at = 0; at < family.size();) {
      Row row = next_row(family, at, heading);
      if (is_forlorn(row, family) && !pages.back().empty()) {
        new_page();
        if (at > 0) heading = fmt::format("{}, continued", name);
        row = next_row(family, at, heading);
      }
      if (row.cells.empty()) row = row_from(family, at, columns, heading);  // taller than a page
      at += row.cells.size();
      row.top = y;
      y += row.height() + row_gap;
      pages.back().push_back(std::move(row));
      heading.clear();
    }
  }
};

std::vector<Page> flow(const std::vector<Family>& all, const diagram::Paper& paper,
                       double title_top, double lowest) {
  Flow out{.paper = paper, .title_top = title_top, .lowest = lowest};
  out.new_page();
  for (std::size_t i = 0; i < all.size(); ++i)
    out.add(all[i], headings.at(i));
  return out.pages;
}

// As few pages as will do, all filled down to about the same height.
std::vector<Page> even_pages(const std::vector<Family>& all, const diagram::Paper& paper,
                             double title_top) {
  constexpr double step = 5.0;
  double lowest = paper.bottom() - edge;
  std::vector<Page> best = flow(all, paper, title_top, lowest);
  for (lowest -= step; lowest > paper.frame.y + paper.frame.height / 3.0; lowest -= step) {
    std::vector<Page> pages = flow(all, paper, title_top, lowest);
    if (pages.size() > best.size()) break;
    best = std::move(pages);
  }
  return best;
}

void line(Group& group, Point a, Point b, diagram::Stroke stroke) {
  group.items.emplace_back(diagram::Polyline{{a, b}, stroke});
}

void draw_grid(Group& group, const Rect& panel) {
  for (double x = 0.0; x <= panel.width; x += module_mm)
    line(group, {panel.x + x, panel.y}, {panel.x + x, panel.y + panel.height},
         diagram::Stroke::hairline);
  for (double y = 0.0; y <= panel.height; y += module_mm)
    line(group, {panel.x, panel.y + y}, {panel.x + panel.width, panel.y + y},
         diagram::Stroke::hairline);
}

// Where the name of a port stands: outside the ink, at the side that is nearest.
diagram::Text port_label(const diagram::Port& port, const Rect& ink, Point origin) {
  constexpr double bias = 0.5;  // above or below wherever that is about as near
  const std::array<double, 4> ways{port.at.y - ink.y, ink.y + ink.height - port.at.y,
                                   port.at.x - ink.x + bias, ink.x + ink.width - port.at.x + bias};
  const auto side = std::min_element(ways.begin(), ways.end()) - ways.begin();
  const double gap = port_half + 0.8;
  const double left = std::min(ink.x, port.at.x - port_half);
  const double right = std::max(ink.x + ink.width, port.at.x + port_half);
  diagram::Text text;
  text.text = port.name;
  text.height = mark_height;
  text.anchor = diagram::Anchor::middle;
  text.at = {origin.x + port.at.x, origin.y + port.at.y};
  if (side == 0) text.at.y = origin.y + std::min(ink.y, port.at.y - port_half) - 0.8;
  if (side == 1)
    text.at.y = origin.y + std::max(ink.y + ink.height, port.at.y + port_half) + 0.8 + mark_height;
  if (side == 2) text.at.x = origin.x + left - gap;
  if (side == 3) text.at.x = origin.x + right + gap;
  if (side >= 2) {
    text.at.y += mark_height / 2.0;
    text.anchor = side == 2 ? diagram::Anchor::end : diagram::Anchor::start;
  }
  return text;
}

void draw_ports(Group& group, const Cell& cell, Point origin) {
  for (const diagram::Port& port : cell.symbol->ports) {
    const Point at{origin.x + port.at.x, origin.y + port.at.y};
    diagram::Box box;
    box.rect = {at.x - port_half, at.y - port_half, 2.0 * port_half, 2.0 * port_half};
    box.stroke = diagram::Stroke::control;
    group.items.emplace_back(box);
    group.items.emplace_back(port_label(port, cell.ink, origin));
  }
}

void draw_words(Group& group, const Cell& cell, Point at) {
  const auto add = [&](const std::string& words, diagram::Weight weight, diagram::Ink ink) {
    at.y += diagram::line_pitch;
    diagram::Text text;
    text.at = at;
    text.text = words;
    text.weight = weight;
    text.ink = ink;
    group.items.emplace_back(std::move(text));
  };
  for (const std::string& words : cell.title)
    add(words, diagram::Weight::bold, diagram::Ink::black);
  add(cell.symbol->name, diagram::Weight::regular, diagram::Ink::grey);
  for (const std::string& words : cell.meaning)
    add(words, diagram::Weight::regular, diagram::Ink::black);
}

// The origin stands on the grid, the ink near the middle of its panel.
void draw_cell(diagram::Sketch& sketch, const Cell& cell, const Rect& panel) {
  const Symbol& symbol = *cell.symbol;
  Group& group = sketch.group("legend", symbol.name, symbol.title, symbol.description);
  group.data["family"] = symbol.family;
  draw_grid(group, panel);
  const double middle = panel.width / 2.0 - cell.ink.x - cell.ink.width / 2.0;
  const double spare = std::floor((panel.height - cell.panel()) / 2.0 / module_mm) * module_mm;
  const Point origin{panel.x + std::round(middle / module_mm) * module_mm,
                     panel.y + spare + cell.above};
  group.items.emplace_back(diagram::SymbolUse{symbol.name, origin, 0});
  draw_ports(group, cell, origin);
  draw_words(group, cell, {panel.x, panel.y + panel.height + 1.0});
}

void draw_row(diagram::Sketch& sketch, const Row& row) {
  const Rect frame = diagram::frame_of(sketch.sheet);
  double top = row.top;
  if (!row.heading.empty()) {
    Group& group = sketch.group("notes", "", row.heading, "");
    diagram::Text text;
    text.at = {frame.x + edge, top + 4.0};
    text.text = row.heading;
    text.height = diagram::heading_height;
    text.weight = diagram::Weight::bold;
    group.items.emplace_back(std::move(text));
    top += heading_room;
  }
  double left = frame.x + edge;
  for (const Cell& cell : row.cells) {
    draw_cell(sketch, cell, {left, top, cell.width(), row.panel});
    left += column_pitch * cell.span;
  }
}

// "Earthing · Protection": the families on a page.
std::string families_on(const Page& page) {
  std::string out;
  for (const Row& row : page)
    if (!row.heading.empty()) out += fmt::format("{}{}", out.empty() ? "" : " · ", row.heading);
  return out;
}

}  // namespace

diagram::Document symbol_document(const drawing::Material& material, const std::string& date) {
  const diagram::Metrics metrics = drawing::metrics(material.symbols, material.fonts);
  site::Site site;
  site.title.site_name = "Symbol library";
  site.title.date = date;
  const diagram::Paper paper = diagram::paper_of(site);
  const std::vector<Page> pages =
      even_pages(in_families(material, metrics), paper, diagram::title_top(site, paper) - row_gap);
  diagram::Document document{.title = "Symbols", .subject = "Symbols for review", .date = date};
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    document.sheets.push_back(
        diagram::sheet_of(paper, number, fmt::format("Symbols: {}", families_on(pages[i]))));
    diagram::Sketch sketch{
        .metrics = metrics, .sheet = document.sheets.back(), .taken = {}, .symbols = {}};
    diagram::draw_frame(sketch);
    for (const Row& row : pages[i])
      draw_row(sketch, row);
    diagram::add_title_block(site,
                             {.title = "Symbols",
                              .supplement = "with their connection points, on the 2.5 mm grid",
                              .document_type = "Symbols for review",
                              .rules = "meaning after IEC 60617",
                              .number = static_cast<int>(i) + 1,
                              .count = static_cast<int>(pages.size())},
                             metrics, document.sheets.back());
  }
  return document;
}

Result<Drawn> draw_symbols(const DrawOptions& options) {
  return draw_document(symbol_document(options.material, options.date), options);
}

}  // namespace linewright
