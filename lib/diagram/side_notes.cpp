#include "diagram/side_notes.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

namespace linewright::diagram {
namespace {

constexpr double too_much = 1e6;  ///< height of a block that is too wide for its column
constexpr double block_gap = 4.5;
constexpr double caption_height = 7.5;  ///< heading, its rule and the gap below

/// A block of notes that must stay together, drawn from its top.
struct Block {
  std::string heading;
  double height = 0.0;
  Group items;
};

/// Moves a block's items to its place.
void drop(Sketch& sketch, const Block& block, Point at, double width) {
  Group& group = sketch.group("notes", "", block.heading, "");
  sketch.text(group, {.at = {at.x, at.y + 4.0},
                      .text = block.heading,
                      .height = heading_height,
                      .weight = Weight::bold});
  group.items.emplace_back(
      Polyline{{{at.x, at.y + 5.5}, {at.x + width, at.y + 5.5}}, Stroke::rule});
  for (const Item& item : block.items.items) {
    if (const auto* text = std::get_if<Text>(&item)) {
      Text moved = *text;
      moved.at = {moved.at.x + at.x, moved.at.y + at.y};
      sketch.text(group, moved);
    } else if (const auto* use = std::get_if<SymbolUse>(&item)) {
      SymbolUse moved = *use;
      moved.at = {moved.at.x + at.x, moved.at.y + at.y};
      group.items.emplace_back(moved);
    } else if (const auto* line = std::get_if<Polyline>(&item)) {
      Polyline moved = *line;
      for (Point& point : moved.points)
        point = {point.x + at.x, point.y + at.y};
      group.items.emplace_back(moved);
    }
  }
}

void put(Block& block, Point at, std::string words, Weight weight = Weight::regular,
         Ink ink = Ink::black, Anchor anchor = Anchor::start) {
  block.items.items.emplace_back(
      Text{.at = at, .text = std::move(words), .weight = weight, .ink = ink, .anchor = anchor});
}

/// One column of the state table.
struct StateColumn {
  std::string head;
  std::vector<std::string> cells;
  double width = 0.0;
  double least = 0.0;  ///< that of the longest word
  bool centred = false;
  bool bold = false;
};

std::vector<StateColumn> state_columns(const OverviewNotes& notes) {
  std::vector<StateColumn> columns;
  columns.push_back({.head = "state", .bold = true});
  for (const std::string& device : notes.devices)
    columns.push_back({.head = device, .centred = true});
  columns.push_back({.head = "alive"});
  columns.push_back({.head = "earth bond"});
  for (const StateRow& row : notes.states) {
    columns.front().cells.push_back(row.name);
    for (std::size_t i = 0; i < notes.devices.size(); ++i)
      columns[i + 1].cells.push_back(i < row.positions.size() ? row.positions[i] : "");
    columns[columns.size() - 2].cells.push_back(row.alive);
    columns.back().cells.push_back(row.bond);
  }
  return columns;
}

// The positions take what they need; the words share the rest. False if even the longest words do
// not fit.
bool size_columns(const Metrics& metrics, double width, std::vector<StateColumn>& columns) {
  double fixed = 0.0;
  double words = 0.0;
  for (StateColumn& column : columns) {
    column.width = metrics.text_width(column.head, text_height, Weight::regular);
    for (const std::string& cell : column.cells)
      column.width = std::max(
          column.width,
          metrics.text_width(cell, text_height, column.bold ? Weight::bold : Weight::regular));
    const double space = column.centred ? 2.0 : 3.0;
    column.width += space;
    const Weight weight = column.bold ? Weight::bold : Weight::regular;
    for (const std::string& cell : column.cells)
      for (const std::string& word : wrapped(metrics, cell, 1.0, weight))
        column.least =
            std::max(column.least, metrics.text_width(word, text_height, weight) + space);
    if (column.centred) column.least = column.width;
    (column.centred ? fixed : words) += column.width;
  }
  if (fixed + words <= width) {
    const double share = (width - fixed - words) / static_cast<double>(columns.size());
    for (StateColumn& column : columns)
      column.width += share;
    return true;
  }
  double most = width;
  const auto sum_at = [&](double limit) {
    double sum = 0.0;
    for (const StateColumn& column : columns)
      sum += std::max(std::min(column.width, limit), column.least);
    return sum;
  };
  while (most > 0.0 && sum_at(most) > width)
    most -= 0.5;
  const bool fits = sum_at(most) <= width;
  for (StateColumn& column : columns)
    column.width = std::max(std::min(column.width, most), column.least);
  return fits;
}

Block state_block(const Metrics& metrics, const OverviewNotes& notes, double width) {
  Block block{.heading = "How the site runs"};
  std::vector<StateColumn> columns = state_columns(notes);
  if (!size_columns(metrics, width, columns)) {
    block.height = too_much;
    return block;
  }
  double y = caption_height + text_height;
  for (std::size_t row = 0; row <= notes.states.size(); ++row) {
    double x = 0.0;
    std::size_t lines = 1;
    for (const StateColumn& column : columns) {
      const Weight weight = column.bold && row > 0 ? Weight::bold : Weight::regular;
      const auto words = wrapped(metrics, row == 0 ? column.head : column.cells[row - 1],
                                 column.width - 1.5, weight);
      lines = std::max(lines, words.size());
      for (std::size_t i = 0; i < words.size(); ++i)
        put(block,
            {x + (column.centred ? column.width / 2.0
                  : column.bold  ? 0.0
                                 : 1.5),
             y + line_pitch * static_cast<double>(i)},
            words[i], weight, row == 0 ? Ink::grey : Ink::black,
            column.centred ? Anchor::middle : Anchor::start);
      x += column.width;
    }
    y += line_pitch * static_cast<double>(lines - 1) + 1.25;
    block.items.items.emplace_back(Polyline{{{0.0, y}, {width, y}}, Stroke::hairline});
    y += line_pitch;
  }
  block.height = y - line_pitch;
  return block;
}

Block lines_block(const Metrics& metrics, std::string heading,
                  const std::vector<std::string>& notes, double width, Weight weight,
                  bool numbered) {
  Block block{.heading = std::move(heading)};
  double y = caption_height + text_height;
  const double indent = numbered ? 5.0 : 0.0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (numbered) put(block, {0.0, y}, fmt::format("{}", i + 1), weight);
    for (const std::string& line : wrapped(metrics, notes[i], width - indent, weight)) {
      put(block, {indent, y}, line, weight);
      y += line_pitch;
    }
  }
  block.height = y - line_pitch + 1.0;
  return block;
}

/// A symbol with its name in the legend.
struct Entry {
  std::string symbol;
  std::vector<std::string> words;
  double room = 0.0;  ///< of the symbol
  double height = 0.0;
  std::size_t span = 1;  ///< columns it takes
};

constexpr double entry_gap = 1.75;
constexpr std::size_t most_legend_parts = 3;
constexpr const char* strokes_words = "conductors; dot: N, bar: PE";

Entry legend_entry(const Metrics& metrics, const std::string& symbol, double column,
                   std::size_t columns) {
  const SymbolShape& shape = shape_of(metrics, symbol);
  Entry entry{.symbol = symbol};
  entry.room = std::max(9.5, shape.bounds.width + 1.0);
  entry.span = entry.room > column * 0.5 ? std::min<std::size_t>(columns, 2) : 1;
  const bool strokes = symbol.starts_with("conductors-");
  double longest = 0.0;
  for (const std::string& word : wrapped(metrics, strokes ? strokes_words : shape.title, 1.0))
    longest = std::max(longest, metrics.text_width(word, text_height, Weight::regular));
  if (entry.room + 1.5 + longest > column) entry.span = std::min<std::size_t>(columns, 2);
  const double width = column * static_cast<double>(entry.span) - entry.room - 2.5;
  entry.words = wrapped(metrics, strokes ? strokes_words : shape.title, width);
  entry.height =
      std::max(shape.bounds.height, line_pitch * static_cast<double>(entry.words.size()) - 1.0) +
      entry_gap;
  return entry;
}

void put_entry(const Metrics& metrics, const Entry& entry, Point at, double height, Block& block) {
  const Rect bounds = shape_of(metrics, entry.symbol).bounds;
  const double middle = at.y + (height - entry_gap) / 2.0;
  block.items.items.emplace_back(SymbolUse{entry.symbol,
                                           {at.x + entry.room / 2.0 - bounds.x - bounds.width / 2.0,
                                            middle - bounds.y - bounds.height / 2.0}});
  const double lines = static_cast<double>(entry.words.size());
  for (std::size_t i = 0; i < entry.words.size(); ++i)
    put(block,
        {at.x + entry.room + 1.0,
         middle - line_pitch * (lines - 1.0) / 2.0 + 1.25 + line_pitch * static_cast<double>(i)},
        entry.words[i]);
}

// What the sheet calls by its name already needs no legend.
bool in_legend(const std::string& symbol) {
  return !symbol.ends_with("-swapped") && symbol != "supply-point" &&
         symbol != "main-earthing-terminal";
}

constexpr double legend_column = 28.0;

/// Entries of alike height side by side.
struct LegendRow {
  std::vector<Entry> entries;
  double height = 0.0;
};

// The next row of the legend, taken from the front of what is left.
LegendRow next_row(const Metrics& metrics, std::vector<std::string>& symbols, double width) {
  const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(width / legend_column));
  const double column = width / static_cast<double>(columns);
  LegendRow row;
  std::size_t taken = 0;
  for (std::size_t i = 0; i < symbols.size() && taken < columns;) {
    Entry entry = legend_entry(metrics, symbols[i], column, columns);
    if (taken + entry.span > columns) {
      ++i;
      continue;
    }
    taken += entry.span;
    row.height = std::max(row.height, entry.height);
    row.entries.push_back(std::move(entry));
    symbols.erase(symbols.begin() + static_cast<std::ptrdiff_t>(i));
  }
  return row;
}

void put_row(const Metrics& metrics, const LegendRow& row, double y, double width, Block& block) {
  const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(width / legend_column));
  const double column = width / static_cast<double>(columns);
  double x = 0.0;
  for (const Entry& entry : row.entries) {
    put_entry(metrics, entry, {x, y}, row.height, block);
    x += column * static_cast<double>(entry.span);
  }
}

// The tall symbols first, so that rows stay even. One set of strokes explains them all.
std::vector<std::string> legend_symbols(const Metrics& metrics,
                                        const std::vector<std::string>& symbols) {
  std::vector<std::string> result;
  std::string strokes;
  for (const std::string& symbol : symbols) {
    if (symbol.starts_with("conductors-")) {
      if (symbol.size() > strokes.size()) strokes = symbol;
    } else if (in_legend(symbol)) {
      result.push_back(symbol);
    }
  }
  if (!strokes.empty()) result.push_back(strokes);
  std::stable_sort(result.begin(), result.end(), [&](const std::string& a, const std::string& b) {
    return shape_of(metrics, a).bounds.height > shape_of(metrics, b).bounds.height;
  });
  return result;
}

/// A column and how far down it is filled.
struct Filled {
  Rect column;
  double y = 0.0;

  double left() const { return column.y + column.height - y; }
};

// As many rows as fit into the column, and at least one with its heading, or none. What is too
// tall for the rest of the column waits for the next one.
Block legend_part(const Metrics& metrics, std::vector<std::string>& symbols, double width,
                  double room, bool continued) {
  Block block{.heading = continued ? "Symbols used, continued" : "Symbols used"};
  const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(width / legend_column));
  const double column = width / static_cast<double>(columns);
  double y = caption_height;
  while (true) {
    std::vector<std::string> fitting;
    for (const std::string& symbol : symbols)
      if (y + legend_entry(metrics, symbol, column, columns).height <= room + 1e-6)
        fitting.push_back(symbol);
    if (fitting.empty()) break;
    const LegendRow row = next_row(metrics, fitting, width);
    put_row(metrics, row, y, width, block);
    for (const Entry& entry : row.entries)
      std::erase(symbols, entry.symbol);
    y += row.height;
  }
  block.height = y;
  return block;
}

}  // namespace

NotesLeft draw_notes(const NotesLeft& what, const std::vector<Rect>& columns, Sketch& sketch) {
  NotesLeft left = what;
  const Metrics& metrics = sketch.metrics;
  std::vector<Filled> filled;
  for (const Rect& column : columns)
    filled.push_back({column, column.y});
  const auto place = [&](const auto& make) {
    for (Filled& here : filled) {
      const Block block = make(here.column.width);
      if (block.height > here.left() + 1e-6) continue;
      drop(sketch, block, {here.column.x, here.y}, here.column.width);
      here.y += block.height + block_gap;
      return true;
    }
    return false;
  };
  if (!left.states.states.empty() &&
      place([&](double width) { return state_block(metrics, left.states, width); }))
    left.states.states.clear();
  const auto place_list = [&](const char* heading, std::vector<std::string>& list, Weight weight) {
    if (list.empty()) return;
    const bool placed = place(
        [&](double width) { return lines_block(metrics, heading, list, width, weight, true); });
    if (placed) list.clear();
  };
  place_list("Open dangers", left.dangers, Weight::bold);
  place_list("Notes", left.notes, Weight::regular);
  place_list("Further connections", left.further, Weight::regular);
  left.symbols = legend_symbols(metrics, left.symbols);
  std::vector<std::pair<std::size_t, Block>> parts;
  std::vector<std::string> symbols = left.symbols;
  for (std::size_t i = 0; i < filled.size() && !symbols.empty(); ++i) {
    const std::size_t before = symbols.size();
    Block block =
        legend_part(metrics, symbols, filled[i].column.width, filled[i].left(), !parts.empty());
    if (symbols.size() < before) parts.emplace_back(i, std::move(block));
  }
  if (!symbols.empty() || parts.size() > most_legend_parts) return left;
  for (const auto& [i, block] : parts)
    drop(sketch, block, {filled[i].column.x, filled[i].y}, filled[i].column.width);
  left.symbols.clear();
  return left;
}

NotesLeft notes_of(const site::Site& site, const OverviewNotes& notes) {
  NotesLeft all;
  all.states = notes;
  all.dangers = notes.dangers;
  all.notes = site.title.notes;
  all.notes.insert(all.notes.end(), notes.notes.begin(), notes.notes.end());
  return all;
}

}  // namespace linewright::diagram
