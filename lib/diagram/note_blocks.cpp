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

}  // namespace

void put(Block& block, Point at, std::string words, Weight weight, Ink ink, Anchor anchor) {
  block.items.items.emplace_back(
      Text{.at = at, .text = std::move(words), .weight = weight, .ink = ink, .anchor = anchor});
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

Block list_block(const Metrics& metrics, const NoteList& list, double width) {
  const std::string last = fmt::format("{}", list.first + list.lines.size() - 1);
  const double indent = std::max(5.0, metrics.text_width(last, text_height, list.weight) + 1.5);
  Block block{.heading = list.heading};
  double y = caption_height + text_height;
  for (std::size_t i = 0; i < list.lines.size(); ++i) {
    put(block, {0.0, y}, fmt::format("{}", list.first + i), list.weight);
    for (const std::string& line : wrapped(metrics, list.lines[i], width - indent, list.weight)) {
      put(block, {indent, y}, line, list.weight);
      y += line_pitch;
    }
  }
  block.height = y - line_pitch + 1.0;
  return block;
}

// What stands at the left, as wide as the longest of them up to half the block.
Block facts_block(const Metrics& metrics, const FactBlock& facts, double width) {
  constexpr double space = 3.0;
  Block block{.heading = facts.heading};
  double left = 0.0;
  for (const Fact& fact : facts.facts)
    left = std::max(left, metrics.text_width(fact.what, text_height, Weight::regular));
  left = std::min(left, width * 0.45);
  double y = caption_height + text_height;
  for (const Fact& fact : facts.facts) {
    const auto what = wrapped(metrics, fact.what, left);
    const auto value = wrapped(metrics, fact.value, width - left - space);
    for (std::size_t i = 0; i < what.size(); ++i)
      put(block, {0.0, y + line_pitch * static_cast<double>(i)}, what[i], Weight::regular,
          Ink::grey);
    for (std::size_t i = 0; i < value.size(); ++i)
      put(block, {left + space, y + line_pitch * static_cast<double>(i)}, value[i]);
    y += line_pitch * static_cast<double>(
                          std::max<std::size_t>({what.size(), value.size(), std::size_t{1}}) - 1) +
         1.25;
    block.items.items.emplace_back(Polyline{{{0.0, y}, {width, y}}, Stroke::hairline});
    y += line_pitch;
  }
  block.height = y - line_pitch;
  return block;
}

void draw_block(Sketch& sketch, const Block& block, Point at, double width) {
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

Filling::Filling(const std::vector<Rect>& places) {
  for (const Rect& place : places)
    columns.push_back({place, place.y});
}

bool Filling::put(const std::function<Block(double)>& make) {
  for (Filled& here : columns) {
    Block block = make(here.column.width);
    if (block.height > here.left() + 1e-6) continue;
    blocks.push_back({std::move(block), {here.column.x, here.y, here.column.width, 0.0}});
    here.y += blocks.back().block.height + block_gap;
    return true;
  }
  return false;
}

bool Filling::put_in_emptiest(const std::function<Block(double)>& make) {
  Filled* best = nullptr;
  for (Filled& here : columns) {
    if (make(here.column.width).height > here.left() + 1e-6) continue;
    if (best == nullptr || here.y - here.column.y < best->y - best->column.y) best = &here;
  }
  if (best == nullptr) return false;
  Block block = make(best->column.width);
  const double height = block.height;
  blocks.push_back({std::move(block), {best->column.x, best->y, best->column.width, height}});
  best->y += height + block_gap;
  return true;
}

void Filling::draw(Sketch& sketch) const {
  for (const Standing& one : blocks)
    draw_block(sketch, one.block, {one.place.x, one.place.y}, one.place.width);
}

}  // namespace linewright::diagram
