#include "diagram/note_blocks.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

namespace linewright::diagram {
namespace {

constexpr double too_much = 1e6;  ///< height of a block that is too wide for its column

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

/// How the lines of a cell look.
struct Look {
  Weight weight = Weight::regular;
  Ink ink = Ink::black;
  Anchor anchor = Anchor::start;
};

// Lines below each other, from the upper edge of the first.
void put_lines(BlockRow& row, Point at, const std::vector<std::string>& lines, const Look& look) {
  at.y += text_height;
  for (const std::string& line : lines) {
    put(row, at, line, look.weight, look.ink, look.anchor);
    at.y += line_pitch;
  }
}

// A row of a table ends in a thin rule.
void close_with_rule(BlockRow& row, std::size_t lines, double width) {
  constexpr double below = 1.25;  // from the last baseline to the rule
  const double last = line_pitch * static_cast<double>(std::max<std::size_t>(lines, 1) - 1);
  const double y = text_height + last + below;
  row.items.items.emplace_back(Polyline{{{0.0, y}, {width, y}}, Stroke::hairline});
  row.height = last + line_pitch + below;
}

}  // namespace

double Block::height() const {
  double height = caption_height;
  for (const BlockRow& row : rows)
    height += row.height;
  return height;
}

void put(BlockRow& row, Point at, std::string words, Weight weight, Ink ink, Anchor anchor) {
  row.items.items.emplace_back(
      Text{.at = at, .text = std::move(words), .weight = weight, .ink = ink, .anchor = anchor});
}

Block state_block(const Metrics& metrics, const OverviewNotes& notes, double width) {
  Block block{.heading = "How the site runs", .rows = {}, .together = true};
  std::vector<StateColumn> columns = state_columns(notes);
  if (!size_columns(metrics, width, columns)) {
    block.rows.push_back({too_much, {}});
    return block;
  }
  for (std::size_t row = 0; row <= notes.states.size(); ++row) {
    BlockRow under;
    double x = 0.0;
    std::size_t lines = 1;
    for (const StateColumn& column : columns) {
      const Weight weight = column.bold && row > 0 ? Weight::bold : Weight::regular;
      const auto words = wrapped(metrics, row == 0 ? column.head : column.cells[row - 1],
                                 column.width - 1.5, weight);
      lines = std::max(lines, words.size());
      const double in = column.centred ? column.width / 2.0 : column.bold ? 0.0 : 1.5;
      put_lines(under, {x + in, 0.0}, words,
                {weight, row == 0 ? Ink::grey : Ink::black,
                 column.centred ? Anchor::middle : Anchor::start});
      x += column.width;
    }
    close_with_rule(under, lines, width);
    block.rows.push_back(std::move(under));
  }
  return block;
}

Block list_block(const Metrics& metrics, const NoteList& list, double width) {
  const std::string last = fmt::format("{}", list.first + list.lines.size() - 1);
  const double indent = std::max(5.0, metrics.text_width(last, text_height, list.weight) + 1.5);
  Block block{.heading = list.heading, .rows = {}};
  for (std::size_t i = 0; i < list.lines.size(); ++i) {
    const auto lines = wrapped(metrics, list.lines[i], width - indent, list.weight);
    BlockRow row{line_pitch * static_cast<double>(lines.size()), {}};
    put(row, {0.0, text_height}, fmt::format("{}", list.first + i), list.weight);
    put_lines(row, {indent, 0.0}, lines, {list.weight});
    block.rows.push_back(std::move(row));
  }
  return block;
}

// What stands at the left, as wide as the longest of them up to half the block.
Block facts_block(const Metrics& metrics, const FactBlock& facts, double width) {
  constexpr double space = 3.0;
  Block block{.heading = facts.heading, .rows = {}, .together = true};
  double left = 0.0;
  for (const Fact& fact : facts.facts)
    left = std::max(left, metrics.text_width(fact.what, text_height, Weight::regular));
  left = std::min(left, width * 0.45);
  for (const Fact& fact : facts.facts) {
    const auto what = wrapped(metrics, fact.what, left);
    const auto value = wrapped(metrics, fact.value, width - left - space);
    BlockRow row;
    put_lines(row, {0.0, 0.0}, what, {Weight::regular, Ink::grey});
    put_lines(row, {left + space, 0.0}, value, {});
    close_with_rule(row, std::max(what.size(), value.size()), width);
    block.rows.push_back(std::move(row));
  }
  return block;
}

Block line_block(const Metrics& metrics, const LineBlock& lines, double width) {
  constexpr double line_gap = 1.0;      // between lines that do not belong together
  constexpr double blank_room = 4.5;    // to write in, above a line that is to be filled in
  constexpr double least_blank = 35.0;  // width to write in
  constexpr std::size_t few = 8;        // lines that are not worth dividing
  Block block{
      .heading = lines.heading, .rows = {}, .together = lines.blanks || lines.lines.size() <= few};
  for (const std::string& line : lines.lines) {
    const auto words = wrapped(metrics, line, lines.blanks ? width - least_blank : width);
    const double above = lines.blanks ? blank_room : 0.0;
    BlockRow row{above + line_pitch * static_cast<double>(words.size()) + line_gap, {}};
    put_lines(row, {0.0, above}, words, {});
    if (lines.blanks) {
      const double from = metrics.text_width(words.back(), text_height, Weight::regular) + 2.0;
      const double y =
          above + text_height + 0.75 + line_pitch * (static_cast<double>(words.size()) - 1.0);
      row.items.items.emplace_back(Polyline{{{from, y}, {width, y}}, Stroke::rule});
    }
    block.rows.push_back(std::move(row));
  }
  return block;
}

namespace {

void draw_row(Sketch& sketch, Group& group, const BlockRow& row, Point at) {
  for (const Item& item : row.items.items) {
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

}  // namespace

void draw_block(Sketch& sketch, const Block& block, Point at, double width) {
  Group& group = sketch.group("notes", "", block.heading, "");
  sketch.text(group, {.at = {at.x, at.y + 4.0},
                      .text = block.heading,
                      .height = heading_height,
                      .weight = Weight::bold});
  group.items.emplace_back(
      Polyline{{{at.x, at.y + 5.5}, {at.x + width, at.y + 5.5}}, Stroke::rule});
  at.y += caption_height;
  for (const BlockRow& row : block.rows) {
    draw_row(sketch, group, row, at);
    at.y += row.height;
  }
}

Filling::Filling(const std::vector<Rect>& places) {
  for (const Rect& place : places)
    columns.push_back({place, place.y});
}

bool Filling::put(const std::function<Block(double)>& make) {
  for (Filled& here : columns) {
    Block block = make(here.column.width);
    if (block.height() > here.left() + 1e-6) continue;
    blocks.push_back({std::move(block), {here.column.x, here.y, here.column.width, 0.0}});
    here.y += blocks.back().block.height() + block_gap;
    return true;
  }
  return false;
}

bool Filling::put_in_emptiest(const std::function<Block(double)>& make) {
  Filled* best = nullptr;
  for (Filled& here : columns) {
    if (make(here.column.width).height() > here.left() + 1e-6) continue;
    if (best == nullptr || here.y - here.column.y < best->y - best->column.y) best = &here;
  }
  if (best == nullptr) return false;
  Block block = make(best->column.width);
  const double height = block.height();
  blocks.push_back({std::move(block), {best->column.x, best->y, best->column.width, height}});
  best->y += height + block_gap;
  return true;
}

void Filling::draw(Sketch& sketch) const {
  for (const PlacedBlock& one : blocks)
    draw_block(sketch, one.block, {one.place.x, one.place.y}, one.place.width);
}

}  // namespace linewright::diagram
