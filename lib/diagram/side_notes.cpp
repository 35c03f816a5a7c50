#include "diagram/side_notes.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace linewright::diagram {
namespace {

constexpr double block_gap = 6.0;
constexpr double caption_height = 8.0;  ///< heading, its rule and the gap below
constexpr const char* caution =
    "Advisory. Check against local codes; work only by licensed people; prove dead before "
    "touching.";

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

// The positions take what they need; the words share the rest.
void size_columns(const Metrics& metrics, double width, std::vector<StateColumn>& columns) {
  double fixed = 0.0;
  double words = 0.0;
  for (StateColumn& column : columns) {
    column.width = metrics.text_width(column.head, text_height, Weight::regular);
    for (const std::string& cell : column.cells)
      column.width = std::max(
          column.width,
          metrics.text_width(cell, text_height, column.bold ? Weight::bold : Weight::regular));
    column.width += 2.0;
    (column.centred ? fixed : words) += column.width;
  }
  if (fixed + words <= width) {
    const double share = (width - fixed - words) / static_cast<double>(columns.size());
    for (StateColumn& column : columns)
      column.width += share;
    return;
  }
  double most = width;
  while (most > 10.0) {
    double sum = 0.0;
    for (const StateColumn& column : columns)
      sum += std::min(column.width, most);
    if (sum <= width) break;
    most -= 0.5;
  }
  for (StateColumn& column : columns)
    column.width = std::min(column.width, most);
}

Block state_block(const Metrics& metrics, const OverviewNotes& notes, double width) {
  Block block{.heading = "How the site runs"};
  std::vector<StateColumn> columns = state_columns(notes);
  size_columns(metrics, width, columns);
  double y = caption_height + text_height;
  for (std::size_t row = 0; row <= notes.states.size(); ++row) {
    double x = 0.0;
    std::size_t lines = 1;
    for (const StateColumn& column : columns) {
      const Weight weight = column.bold && row > 0 ? Weight::bold : Weight::regular;
      const auto words = wrapped(metrics, row == 0 ? column.head : column.cells[row - 1],
                                 column.width - 1.0, weight);
      lines = std::max(lines, words.size());
      for (std::size_t i = 0; i < words.size(); ++i)
        put(block,
            {x + (column.centred ? column.width / 2.0 : 0.0),
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

constexpr std::size_t legend_columns = 3;
constexpr double entry_gap = 2.5;

Entry legend_entry(const Metrics& metrics, const std::string& symbol, double column) {
  const SymbolShape& shape = shape_of(metrics, symbol);
  Entry entry{.symbol = symbol};
  entry.room = std::max(10.0, shape.bounds.width + 1.5);
  entry.span = entry.room > column * 0.6 ? legend_columns : 1;
  const double width = column * static_cast<double>(entry.span) - entry.room - 2.5;
  entry.words = wrapped(metrics, shape.title, width);
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

bool in_legend(const std::string& symbol) {
  return !symbol.ends_with("-swapped");
}

// Rows of alike height, the tall symbols first; wide ones have a row of their own at the end.
Block legend_block(const Metrics& metrics, const std::vector<std::string>& symbols, double width) {
  Block block{.heading = "Symbols used"};
  std::vector<Entry> entries;
  const double column = width / static_cast<double>(legend_columns);
  for (const std::string& symbol : symbols)
    if (in_legend(symbol)) entries.push_back(legend_entry(metrics, symbol, column));
  std::stable_sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
    return a.span != b.span ? a.span < b.span : a.height > b.height;
  });
  double y = caption_height;
  for (std::size_t first = 0; first < entries.size();) {
    std::size_t last = first;
    double height = 0.0;
    for (std::size_t taken = 0; last < entries.size(); ++last) {
      if (taken > 0 && taken + entries[last].span > legend_columns) break;
      taken += entries[last].span;
      height = std::max(height, entries[last].height);
    }
    for (std::size_t i = first; i < last; ++i)
      put_entry(metrics, entries[i], {column * static_cast<double>(i - first), y}, height, block);
    y += height;
    first = last;
  }
  block.height = y;
  return block;
}

}  // namespace

std::vector<std::string> wrapped(const Metrics& metrics, const std::string& text, double width,
                                 Weight weight) {
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  bool glued = true;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find_first_of(" -", at + 1), text.size());
    const bool hyphen = end < text.size() && text[end] == '-';
    const std::string word = text.substr(at, end - at + (hyphen ? 1 : 0));
    const std::string longer = glued ? line + word : line + " " + word;
    if (!line.empty() && metrics.text_width(longer, text_height, weight) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    glued = hyphen;
    at = end + 1;
  }
  if (!line.empty() || lines.empty()) lines.push_back(line);
  return lines;
}

bool draw_side_notes(const site::Site& site, const OverviewNotes& notes, const NoteColumns& room,
                     Sketch& sketch) {
  const double width = room.columns.front().width;
  const Metrics& metrics = sketch.metrics;
  std::vector<Block> blocks;
  if (!notes.states.empty()) blocks.push_back(state_block(metrics, notes, width));
  if (!notes.dangers.empty())
    blocks.push_back(
        lines_block(metrics, "Open dangers", notes.dangers, width, Weight::bold, true));
  std::vector<std::string> lines = site.title.notes;
  lines.insert(lines.end(), notes.notes.begin(), notes.notes.end());
  lines.emplace_back(caution);
  blocks.push_back(lines_block(metrics, "Notes", lines, width, Weight::regular, true));
  blocks.push_back(legend_block(metrics, sketch.symbols, width));
  std::size_t column = 0;
  double y = room.columns.front().y;
  bool all = true;
  for (const Block& block : blocks) {
    while (column + 1 < room.columns.size() &&
           y + block.height > room.columns[column].y + room.columns[column].height) {
      ++column;
      y = room.columns[column].y;
    }
    all = all && y + block.height <= room.columns[column].y + room.columns[column].height + 1e-6;
    drop(sketch, block, {room.columns[column].x, y}, width);
    y += block.height + block_gap;
  }
  return all;
}

}  // namespace linewright::diagram
