// The legend: each symbol once with its name, in rows of alike height.
#include <algorithm>
#include <utility>

#include "diagram/note_blocks.hpp"

namespace linewright::diagram {
namespace {

/// A symbol with its name in the legend.
struct Entry {
  std::string symbol;
  std::vector<std::string> words;
  double room = 0.0;  ///< of the symbol
  double height = 0.0;
  std::size_t span = 1;  ///< columns it takes
};

constexpr double least_room = 8.0;  ///< of a symbol, so that names stand below each other

// The name beside the symbol, in as many lines as its columns ask for.
void set_words(const Metrics& metrics, double column, Entry& entry) {
  const double width = column * static_cast<double>(entry.span) - entry.room - 2.5;
  entry.words = wrapped(metrics, legend_name(metrics, entry.symbol), width);
  entry.height = std::max(shape_of(metrics, entry.symbol).bounds.height,
                          line_pitch * static_cast<double>(entry.words.size()) - 1.0);
}

Entry legend_entry(const Metrics& metrics, const std::string& symbol, double column,
                   std::size_t columns) {
  const SymbolShape& shape = shape_of(metrics, symbol);
  Entry entry{.symbol = symbol};
  entry.room = std::max(least_room, shape.bounds.width + 1.0);
  entry.span = entry.room > column * 0.5 ? std::min<std::size_t>(columns, 2) : 1;
  const std::string name = legend_name(metrics, symbol);
  double longest = 0.0;
  for (const std::string& word : wrapped(metrics, name, 1.0))
    longest = std::max(longest, metrics.text_width(word, text_height, Weight::regular));
  if (entry.room + 1.5 + longest > column) entry.span = std::min<std::size_t>(columns, 2);
  set_words(metrics, column, entry);
  return entry;
}

void put_entry(const Metrics& metrics, const Entry& entry, double left, double height,
               BlockRow& row) {
  const Rect bounds = shape_of(metrics, entry.symbol).bounds;
  const double middle = height / 2.0;
  row.items.items.emplace_back(SymbolUse{entry.symbol,
                                         {left + entry.room / 2.0 - bounds.x - bounds.width / 2.0,
                                          middle - bounds.y - bounds.height / 2.0}});
  const double lines = static_cast<double>(entry.words.size());
  for (std::size_t i = 0; i < entry.words.size(); ++i)
    put(row,
        {left + entry.room + 1.0,
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
    row.entries.push_back(std::move(entry));
    symbols.erase(symbols.begin() + static_cast<std::ptrdiff_t>(i));
  }
  row.entries.back().span += columns - taken;  // what nothing else takes
  set_words(metrics, column, row.entries.back());
  for (const Entry& entry : row.entries)
    row.height = std::max(row.height, entry.height);
  return row;
}

BlockRow drawn(const Metrics& metrics, const LegendRow& legend, double width, double gap) {
  const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(width / legend_column));
  const double column = width / static_cast<double>(columns);
  BlockRow row{legend.height + gap, {}};
  double x = 0.0;
  for (const Entry& entry : legend.entries) {
    put_entry(metrics, entry, x, legend.height, row);
    x += column * static_cast<double>(entry.span);
  }
  return row;
}

}  // namespace

std::string legend_name(const Metrics& metrics, const std::string& symbol) {
  constexpr const char* strokes = "conductors; dot: N, bar: PE";
  return symbol.starts_with("conductors-") ? strokes : shape_of(metrics, symbol).title;
}

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

Block legend_block(const Metrics& metrics, const std::vector<std::string>& symbols, double width,
                   LegendRows rows) {
  const double gap = rows == LegendRows::close ? 0.75 : 1.75;
  Block block{.heading = symbols_heading, .rows = {}, .together = true};
  std::vector<std::string> left = symbols;
  while (!left.empty())
    block.rows.push_back(drawn(metrics, next_row(metrics, left, width), width, gap));
  return block;
}

}  // namespace linewright::diagram
