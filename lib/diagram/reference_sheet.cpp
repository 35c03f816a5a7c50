#include "diagram/reference_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <utility>

#include <fmt/core.h>

#include "diagram/note_blocks.hpp"
#include "diagram/wording.hpp"

namespace linewright::diagram {
namespace {

constexpr double inset = 4.0;          ///< from the frame to what stands on the sheet
constexpr double column_gap = 8.0;     ///< mm between columns of blocks
constexpr double least_column = 84.0;  ///< mm, of a column of blocks
constexpr double least_cell = 56.0;    ///< mm, of a symbol with its name
constexpr double row_gap = 5.0;        ///< mm between rows of symbols

/// What kind_word calls an element, as people say it.
std::string spoken(const site::Element& element) {
  static const std::map<std::string, std::string> words{{"rcd", "RCD"},
                                                        {"rcbo", "breaker with RCD"},
                                                        {"pv", "PV array"},
                                                        {"spd", "surge arrester"},
                                                        {"pen-split", "PEN split"},
                                                        {"bond", "neutral-earth link"}};
  std::string word = kind_word(element);
  if (const auto known = words.find(word); known != words.end()) return known->second;
  std::ranges::replace(word, '-', ' ');
  return word;
}

// "-WB1" begins with "-WB".
std::string letters_in(const std::string& designation) {
  std::size_t end = 1;
  while (end < designation.size() && designation[end] >= 'A' && designation[end] <= 'Z')
    ++end;
  return end > 1 && designation.front() == '-' ? designation.substr(0, end) : std::string();
}

void note_letter(std::map<std::string, std::vector<std::string>>& words,
                 const std::string& designation, const std::string& kind) {
  const std::string letters = letters_in(designation);
  if (letters.empty()) return;
  auto& kinds = words[letters];
  if (std::ranges::count(kinds, kind) == 0) kinds.push_back(kind);
}

/// The names of the symbols in a grid of even cells.
struct Grid {
  std::vector<std::string> symbols;
  double cell = 0.0;      ///< width
  double room = 0.0;      ///< of the symbol in its cell
  std::size_t count = 1;  ///< cells in a row
};

Grid grid_of(const Metrics& metrics, const std::vector<std::string>& symbols, double width) {
  Grid grid{.symbols = legend_symbols(metrics, symbols)};
  grid.count = std::max<std::size_t>(1, static_cast<std::size_t>(width / least_cell));
  grid.cell = width / static_cast<double>(grid.count);
  for (const std::string& symbol : grid.symbols)
    grid.room = std::max(grid.room, shape_of(metrics, symbol).bounds.width);
  return grid;
}

std::vector<std::string> name_in(const Metrics& metrics, const Grid& grid,
                                 const std::string& symbol) {
  return wrapped(metrics, legend_name(metrics, symbol), grid.cell - grid.room - 6.0);
}

double row_height(const Metrics& metrics, const Grid& grid, std::size_t first) {
  double height = 0.0;
  for (std::size_t i = first; i < std::min(grid.symbols.size(), first + grid.count); ++i) {
    const double words =
        line_pitch * static_cast<double>(name_in(metrics, grid, grid.symbols[i]).size());
    height = std::max({height, shape_of(metrics, grid.symbols[i]).bounds.height, words});
  }
  return height + row_gap;
}

void put_symbol(const Metrics& metrics, const Grid& grid, const std::string& symbol,
                const Rect& cell, Block& block) {
  const Rect bounds = shape_of(metrics, symbol).bounds;
  const double middle = cell.y + cell.height / 2.0;
  block.items.items.emplace_back(
      SymbolUse{symbol,
                {cell.x + grid.room / 2.0 - bounds.x - bounds.width / 2.0,
                 middle - bounds.y - bounds.height / 2.0}});
  const auto words = name_in(metrics, grid, symbol);
  const double lines = static_cast<double>(words.size());
  for (std::size_t i = 0; i < words.size(); ++i)
    put(block,
        {cell.x + grid.room + 3.0, middle - line_pitch * (lines - 1.0) / 2.0 + text_height / 2.0 +
                                       line_pitch * static_cast<double>(i)},
        words[i]);
}

// Rows of the grid from one symbol on, as many as the height holds; `first` goes on to the next.
Block grid_block(const Metrics& metrics, const Grid& grid, std::size_t& first, double height) {
  Block block{.heading = first == 0 ? "Symbols used" : "Symbols used, continued"};
  double y = caption_height;
  while (first < grid.symbols.size()) {
    const double row = row_height(metrics, grid, first);
    if (y + row > height && y > caption_height) break;
    for (std::size_t i = 0; i < grid.count && first < grid.symbols.size(); ++i, ++first)
      put_symbol(metrics, grid, grid.symbols[first],
                 {grid.cell * static_cast<double>(i), y, grid.cell, row - row_gap}, block);
    y += row;
  }
  block.height = y;
  return block;
}

/// What waits for a column: the table of states, facts, or a list; the last two may go on in the
/// next column.
struct Waiting {
  const OverviewNotes* states = nullptr;
  FactBlock facts;
  NoteList list;
};

Block block_of(const Metrics& metrics, const Waiting& what, double width) {
  if (what.states != nullptr) return state_block(metrics, *what.states, width);
  if (!what.facts.facts.empty()) return facts_block(metrics, what.facts, width);
  return list_block(metrics, what.list, width);
}

// A table with more columns than the paper is wide, as lines.
std::vector<std::string> states_as_lines(const OverviewNotes& notes) {
  std::vector<std::string> lines;
  for (const StateRow& row : notes.states) {
    std::string line = row.name + ": ";
    for (std::size_t i = 0; i < std::min(notes.devices.size(), row.positions.size()); ++i)
      line += fmt::format("{} {}, ", notes.devices[i], row.positions[i]);
    lines.push_back(line + fmt::format("alive: {}, earth bond: {}", row.alive, row.bond));
  }
  return lines;
}

std::deque<Waiting> waiting_of(const site::Site& site, const Metrics& metrics,
                               const NotesLeft& what) {
  const Paper paper = paper_of(site);
  const double highest = title_top(site, paper) - paper.frame.y - 2.0 * inset;
  std::deque<Waiting> waiting;
  const auto add_list = [&](const char* heading, std::vector<std::string> lines, Weight weight) {
    if (!lines.empty()) waiting.push_back({nullptr, {}, {heading, std::move(lines), weight}});
  };
  if (!what.states.states.empty()) {
    if (state_block(metrics, what.states, least_column).height <= highest)
      waiting.push_back({&what.states, {}, {}});
    else
      add_list("How the site runs", states_as_lines(what.states), Weight::regular);
  }
  add_list("Open dangers", what.dangers, Weight::bold);
  std::vector<FactBlock> facts = what.facts;
  facts.push_back(letters_of(site));
  for (const FactBlock& block : facts)
    if (!block.facts.empty()) waiting.push_back({nullptr, block, {}});
  add_list("Notes", what.notes, Weight::regular);
  add_list("Further connections", what.further, Weight::regular);
  return waiting;
}

std::string continued(const std::string& heading) {
  constexpr std::string_view words = ", continued";
  return heading.ends_with(words) ? heading : heading + std::string(words);
}

// Takes the lines or facts that fit the height off the front; at least one.
Waiting first_part(const Metrics& metrics, Waiting& what, double width, double height) {
  const bool facts = !what.facts.facts.empty();
  const std::size_t all = facts ? what.facts.facts.size() : what.list.lines.size();
  const auto part_of = [&](std::size_t count) {
    const auto end = static_cast<std::ptrdiff_t>(count);
    Waiting part = what;
    part.facts.facts = {what.facts.facts.begin(), what.facts.facts.begin() + (facts ? end : 0)};
    part.list.lines = {what.list.lines.begin(), what.list.lines.begin() + (facts ? 0 : end)};
    return part;
  };
  std::size_t low = 1;
  std::size_t high = all;
  while (low < high) {
    const std::size_t middle = (low + high + 1) / 2;
    if (block_of(metrics, part_of(middle), width).height <= height)
      low = middle;
    else
      high = middle - 1;
  }
  Waiting part = part_of(low);
  const auto end = static_cast<std::ptrdiff_t>(low);
  if (facts)
    what.facts.facts.erase(what.facts.facts.begin(), what.facts.facts.begin() + end);
  else
    what.list.lines.erase(what.list.lines.begin(), what.list.lines.begin() + end);
  what.list.first += low;
  what.facts.heading = continued(what.facts.heading);
  what.list.heading = continued(what.list.heading);
  return part;
}

void stand(Filling& filling, Filled& here, Block block) {
  const double height = block.height;
  filling.blocks.push_back({std::move(block), {here.column.x, here.y, here.column.width, height}});
  here.y += height + block_gap;
}

// Each block into the emptiest column; what is too long for any goes on from column to column.
// What finds no room stays in `waiting`.
void fill(const Metrics& metrics, std::deque<Waiting>& waiting, Filling& filling) {
  constexpr double least_part = 40.0;
  while (!waiting.empty()) {
    Waiting& next = waiting.front();
    if (filling.put_in_emptiest([&](double width) { return block_of(metrics, next, width); })) {
      waiting.pop_front();
      continue;
    }
    if (next.states != nullptr) return;
    const auto open = std::ranges::find_if(
        filling.columns, [&](const Filled& here) { return here.left() >= least_part; });
    if (open == filling.columns.end()) return;
    const Waiting part = first_part(metrics, next, open->column.width, open->left());
    stand(filling, *open, block_of(metrics, part, open->column.width));
  }
}

}  // namespace

std::vector<Rect> columns_below(const site::Site& site, const Paper& paper, double top) {
  const double width = paper.frame.width - 2.0 * inset;
  const double count =
      std::max(1.0, std::floor((width + column_gap) / (least_column + column_gap)));
  const double column = (width - column_gap * (count - 1.0)) / count;
  std::vector<Rect> columns;
  for (double i = 0.0; i < count; ++i) {
    const double left = paper.frame.x + inset + (column + column_gap) * i;
    const bool over_title = left + column > paper.title_left() - inset;
    const double bottom = over_title ? title_top(site, paper) : paper.bottom();
    if (bottom - inset > top) columns.push_back({left, top, column, bottom - inset - top});
  }
  return columns;
}

FactBlock letters_of(const site::Site& site) {
  std::map<std::string, std::vector<std::string>> words;
  for (const site::Element& element : site.elements)
    if (site::facts<site::LoadGroup>(element) == nullptr)
      note_letter(words, element.designation, spoken(element));
  for (const site::Run& run : site.runs)
    if (run.cable) note_letter(words, run.designation, "cable");
  for (const site::SignalLink& link : site.signals)
    note_letter(words, link.designation, "signal cable");
  FactBlock block{.heading = "Letters of the designations", .facts = {}};
  if (!site.assemblies.empty()) block.facts.push_back({"+A", "board or panel: where it is"});
  for (const auto& [letters, kinds] : words) {
    std::string value;
    for (const std::string& kind : kinds)
      value += (value.empty() ? "" : ", ") + kind;
    block.facts.push_back({letters, value});
  }
  return block;
}

std::string reference_title(const NotesLeft& what) {
  std::vector<std::string> parts;
  if (!what.symbols.empty()) parts.emplace_back("symbols");
  if (!what.notes.empty() || !what.further.empty() || !what.states.states.empty())
    parts.emplace_back("notes");
  if (!what.facts.empty()) parts.emplace_back("supply data");
  std::string title;
  for (std::size_t i = 0; i < parts.size(); ++i)
    title += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  if (!title.empty() && title.front() >= 'a' && title.front() <= 'z')
    title.front() = static_cast<char>(title.front() - 'a' + 'A');
  return title;
}

std::vector<Sheet> reference_sheets(const site::Site& site, const Metrics& metrics,
                                    const NotesLeft& what) {
  constexpr std::size_t most = 99;
  const Paper paper = paper_of(site);
  const double width = paper.frame.width - 2.0 * inset;
  const double top = paper.frame.y + inset;
  const Grid grid = grid_of(metrics, what.symbols, width);
  const std::string title = reference_title(what);
  std::deque<Waiting> waiting = waiting_of(site, metrics, what);
  std::size_t first = 0;
  std::vector<Sheet> sheets;
  while ((first < grid.symbols.size() || !waiting.empty()) && sheets.size() < most) {
    const std::size_t number = sheets.size() + 1;
    Sheet sheet = sheet_of(paper, number == 1 ? "symbols" : fmt::format("symbols-{}", number),
                           number == 1 ? title : fmt::format("{}, sheet {}", title, number));
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    double y = top;
    if (first < grid.symbols.size()) {
      const double height = title_top(site, paper) - inset - top;
      const Block block = grid_block(metrics, grid, first, height);
      draw_block(sketch, block, {paper.frame.x + inset, top}, width);
      y += block.height + block_gap;
    }
    Filling filling(columns_below(site, paper, y));
    if (first == grid.symbols.size()) fill(metrics, waiting, filling);
    filling.draw(sketch);
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

}  // namespace linewright::diagram
