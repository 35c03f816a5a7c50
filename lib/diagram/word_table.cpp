#include "diagram/word_table.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "diagram/lettering.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

constexpr double cell_gap = 2.0;
constexpr double row_gap = 1.75;
constexpr double margin = 4.0;

// A rule's name may be broken after its family, and a word that is still too long anywhere.
std::vector<std::string> cell_lines(const Metrics& metrics, const std::string& words,
                                    double width) {
  std::vector<std::string> lines;
  for (const std::string& line : wrapped(metrics, words, width)) {
    const std::size_t slash = line.find('/');
    const bool fits = metrics.text_width(line, text_height, Weight::regular) <= width;
    if (fits || slash == std::string::npos) {
      lines.push_back(line);
      continue;
    }
    lines.push_back(line.substr(0, slash + 1));
    for (const std::string& rest : wrapped(metrics, line.substr(slash + 1), width))
      lines.push_back(rest);
  }
  return lines;
}

Rect area_on(const site::Site& site) {
  const Paper paper = paper_of(site);
  return {paper.frame.x + margin, paper.frame.y + margin, paper.frame.width - 2.0 * margin,
          title_top(site, paper) - paper.frame.y - 2.0 * margin};
}

}  // namespace

/// The words of a row, cell by cell, and its height.
struct WordTable::Row {
  std::vector<std::vector<std::string>> lines;
  double height = 0.0;
};

double table_width(const site::Site& site) {
  return area_on(site).width;
}

double column_for(const Metrics& metrics, const std::string& words, double most) {
  return std::min(most, metrics.text_width(words, text_height, Weight::regular) + cell_gap);
}

WordTable::WordTable(const site::Site& site, const Metrics& metrics, const TableForm& form)
    : site_(site), metrics_(metrics), form_(form), area_(area_on(site)) {}

WordTable::Row WordTable::row_of(const std::vector<std::string>& cells) const {
  Row row;
  std::size_t most = 1;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    row.lines.push_back(cell_lines(metrics_, cells[c], form_.widths[c] - cell_gap));
    most = std::max(most, row.lines[c].size());
  }
  row.height = line_pitch * static_cast<double>(most) + row_gap;
  return row;
}

void WordTable::put(Group& group, const Row& row, double y, Ink ink) {
  Sketch sketch{.metrics = metrics_, .sheet = sheets_.back(), .taken = {}, .symbols = {}};
  double x = area_.x;
  for (std::size_t c = 0; c < row.lines.size(); ++c) {
    double baseline = y + text_height;
    for (const std::string& line : row.lines[c]) {
      sketch.text(group, {.at = {x, baseline},
                          .text = line,
                          .weight = c == 0 && ink == Ink::black ? Weight::bold : Weight::regular,
                          .ink = ink});
      baseline += line_pitch;
    }
    x += form_.widths[c];
  }
}

void WordTable::begin_sheet() {
  sheets_.push_back(sheet_of(
      paper_of(site_), fmt::format("{}-{}", form_.sheet_name, sheets_.size() + 1), form_.title));
  Sketch sketch{.metrics = metrics_, .sheet = sheets_.back(), .taken = {}, .symbols = {}};
  draw_frame(sketch);
  Group& group = sketch.group("flag-table", "", form_.title, "");
  const Row row = row_of(form_.heads);
  put(group, row, area_.y, Ink::grey);
  y_ = area_.y + row.height;
  group.items.emplace_back(
      Polyline{{{area_.x, y_ - 1.0}, {area_.x + area_.width, y_ - 1.0}}, Stroke::rule});
}

void WordTable::add(const std::vector<std::string>& cells, const Group& like) {
  const Row row = row_of(cells);
  if (sheets_.empty() || y_ + row.height > area_.y + area_.height) begin_sheet();
  Sketch sketch{.metrics = metrics_, .sheet = sheets_.back(), .taken = {}, .symbols = {}};
  Group& group = sketch.group(like.kind, like.id, like.title, like.description);
  group.data = like.data;
  put(group, row, y_ + 0.5, Ink::black);
  y_ += row.height;
  group.items.emplace_back(
      Polyline{{{area_.x, y_ - 0.5}, {area_.x + area_.width, y_ - 0.5}}, Stroke::hairline});
}

void WordTable::add_remark(const std::string& words) {
  if (words.empty()) return;
  const std::vector<std::string> lines = wrapped(metrics_, words, area_.width);
  const double height = line_pitch * static_cast<double>(lines.size());
  if (sheets_.empty() || y_ + height + 2.0 > area_.y + area_.height) begin_sheet();
  Sketch sketch{.metrics = metrics_, .sheet = sheets_.back(), .taken = {}, .symbols = {}};
  Group& group = sketch.group("notes", "", "Remark", "");
  y_ += 2.0;
  for (const std::string& line : lines) {
    sketch.text(group, {.at = {area_.x, y_ + text_height}, .text = line});
    y_ += line_pitch;
  }
}

}  // namespace linewright::diagram
