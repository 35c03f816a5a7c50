#include "diagram/text_sheets.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/core.h>

#include "diagram/wording.hpp"

namespace linewright::diagram {
namespace {

constexpr double inset = 4.0;          ///< from the frame to what stands on the sheet
constexpr double column_gap = 8.0;     ///< mm between columns of blocks
constexpr double least_column = 84.0;  ///< mm, of a column of blocks

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

// The table of states, or its rows as lines where no column is wide enough.
Block states_in(const Metrics& metrics, const OverviewNotes& states, double width, double highest) {
  Block table = state_block(metrics, states, width);
  if (table.height() <= highest) return table;
  return list_block(metrics, {"How the site runs", states_as_lines(states)}, width);
}

std::vector<Block> blocks_of(const site::Site& site, const Metrics& metrics,
                             const OverviewNotes& notes, const NotesLeft& left,
                             const Rect& column) {
  std::vector<Block> blocks;
  const double width = column.width;
  const auto add_list = [&](const char* heading, const std::vector<std::string>& lines,
                            Weight weight) {
    if (!lines.empty()) blocks.push_back(list_block(metrics, {heading, lines, weight}, width));
  };
  if (!left.states.states.empty())
    blocks.push_back(states_in(metrics, left.states, width, column.height));
  add_list("Open dangers", left.dangers, Weight::bold);
  add_list("Notes", left.notes, Weight::regular);
  add_list("Further connections", left.further, Weight::regular);
  for (const LineBlock& lines : notes.particulars)
    if (!lines.lines.empty()) blocks.push_back(line_block(metrics, lines, width));
  const auto symbols = legend_symbols(metrics, left.symbols);
  if (!symbols.empty()) blocks.push_back(legend_block(metrics, symbols, width));
  const FactBlock letters = letters_of(site);
  if (!letters.facts.empty()) blocks.push_back(facts_block(metrics, letters, width));
  return blocks;
}

/// Sheets under way, filled column by column.
struct Columns {
  const site::Site& site;
  const Metrics& metrics;
  std::string title;
  std::vector<Sheet> sheets;
  std::vector<Rect> columns;  ///< of the sheet under way
  std::size_t column = 0;
  double y = 0.0;  ///< how far down the column is filled

  double left() const { return sheets.empty() ? 0.0 : columns[column].height - y; }

  void next_column() {
    y = 0.0;
    if (!sheets.empty() && ++column < columns.size()) return;
    column = 0;
    const std::size_t number = sheets.size() + 1;
    sheets.push_back(
        sheet_of(paper_of(site),
                 number == 1 ? std::string("particulars") : fmt::format("particulars-{}", number),
                 number == 1 ? title : fmt::format("{}, sheet {}", title, number)));
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    draw_frame(sketch);
  }

  void draw(const Block& block) {
    const Rect& here = columns[column];
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    draw_block(sketch, block, {here.x, here.y + y}, here.width);
    y += block.height() + block_gap;
  }

  // As many rows from `first` on as fit; one at least, so that it comes to an end.
  Block rows_that_fit(const Block& block, std::size_t first) const {
    Block part{.heading = first == 0 ? block.heading : block.heading + ", continued", .rows = {}};
    for (std::size_t i = first; i < block.rows.size(); ++i) {
      if (!part.rows.empty() && part.height() + block.rows[i].height > left() + 1e-6) break;
      part.rows.push_back(block.rows[i]);
    }
    return part;
  }

  // A block begins where its heading has two rows below it.
  bool may_begin(const Block& block) const {
    double least = caption_height;
    for (std::size_t i = 0; i < std::min<std::size_t>(2, block.rows.size()); ++i)
      least += block.rows[i].height;
    const bool whole = block.together && block.height() <= columns.back().height;
    return (whole ? block.height() : least) <= left() + 1e-6;
  }

  void add(const Block& block) {
    if (!may_begin(block)) next_column();
    for (std::size_t first = 0; first < block.rows.size();) {
      if (first > 0) next_column();
      const Block part = rows_that_fit(block, first);
      first += part.rows.size();
      draw(part);
    }
  }
};

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

std::string title_of_text(const OverviewNotes& notes, const NotesLeft& left) {
  std::vector<std::string> parts;
  if (!notes.particulars.empty()) parts.emplace_back("particulars");
  if (!left.told()) parts.emplace_back("notes");
  if (!left.symbols.empty() || parts.empty()) parts.emplace_back("symbols");
  std::string title;
  for (std::size_t i = 0; i < parts.size(); ++i)
    title += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  title.front() = static_cast<char>(title.front() - 'a' + 'A');
  return title;
}

std::vector<Sheet> text_sheets(const site::Site& site, const Metrics& metrics,
                               const OverviewNotes& notes, const NotesLeft& left) {
  const Paper paper = paper_of(site);
  Columns columns{.site = site,
                  .metrics = metrics,
                  .title = title_of_text(notes, left),
                  .sheets = {},
                  .columns = columns_below(site, paper, paper.frame.y + inset)};
  for (const Block& block : blocks_of(site, metrics, notes, left, columns.columns.back()))
    columns.add(block);
  return std::move(columns.sheets);
}

}  // namespace linewright::diagram
