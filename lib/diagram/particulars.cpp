#include "diagram/particulars.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "diagram/lettering.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

constexpr double inset = 4.0;          ///< from the frame to what stands on the sheet
constexpr double column_gap = 8.0;     ///< between columns
constexpr double least_column = 84.0;  ///< width of a column
constexpr double heading_room = 8.5;   ///< heading, its rule and the gap below
constexpr double block_gap = 5.0;      ///< between blocks
constexpr double line_gap = 1.0;       ///< between lines that do not belong together
constexpr double blank_pitch = 8.0;    ///< baseline to baseline of lines to be filled in
constexpr double least_blank = 35.0;   ///< room to write

/// The sheets under way, filled column by column.
struct Filling {
  const site::Site& site;
  const Metrics& metrics;
  Rect area;
  std::size_t columns = 1;
  std::vector<Sheet> sheets;
  std::size_t column = 0;
  double y = 0.0;         ///< from the top of the column
  std::size_t group = 0;  ///< of the block under way, on the last sheet

  double width() const {
    return (area.width - column_gap * static_cast<double>(columns - 1)) /
           static_cast<double>(columns);
  }
  double left() const { return area.x + (width() + column_gap) * static_cast<double>(column); }
  bool has_room(double height) const { return y + height <= area.height; }

  void next_column() {
    y = 0.0;
    if (!sheets.empty() && ++column < columns) return;
    column = 0;
    sheets.push_back(sheet_of(paper_of(site),
                              sheets.empty() ? std::string("particulars")
                                             : fmt::format("particulars-{}", sheets.size() + 1),
                              "Particulars"));
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    draw_frame(sketch);
  }

  void begin_block(const std::string& heading) {
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    Group& into = sketch.group("notes", "", heading, "");
    group = sheets.back().groups.size() - 1;
    sketch.text(into, {.at = {left(), area.y + y + 4.0},
                       .text = heading,
                       .height = heading_height,
                       .weight = Weight::bold});
    into.items.emplace_back(
        Polyline{{{left(), area.y + y + 5.5}, {left() + width(), area.y + y + 5.5}}, Stroke::rule});
    y += heading_room;
  }

  std::vector<std::string> broken(const LineBlock& block, const std::string& line) const {
    return wrapped(metrics, line, block.blanks ? width() - least_blank : width());
  }

  double height_of(const LineBlock& block, const std::string& line) const {
    if (block.blanks)
      return blank_pitch + line_pitch * static_cast<double>(broken(block, line).size() - 1);
    return line_pitch * static_cast<double>(broken(block, line).size()) + line_gap;
  }

  void add_line(const LineBlock& block, const std::string& line) {
    Group& into = sheets.back().groups[group];
    const std::vector<std::string> words = broken(block, line);
    double baseline = area.y + y + (block.blanks ? blank_pitch - line_gap : text_height);
    for (const std::string& each : words) {
      into.items.emplace_back(Text{.at = {left(), baseline}, .text = each});
      baseline += line_pitch;
    }
    if (block.blanks) {
      const double from =
          left() + metrics.text_width(words.back(), text_height, Weight::regular) + 2.0;
      const double at = baseline - line_pitch + 0.75;
      into.items.emplace_back(Polyline{{{from, at}, {left() + width(), at}}, Stroke::rule});
    }
    y += height_of(block, line);
  }

  void add(const LineBlock& block) {
    if (block.lines.empty()) return;
    const double first = heading_room + height_of(block, block.lines.front());
    double whole = heading_room;
    for (const std::string& line : block.lines)
      whole += height_of(block, line);
    const bool kept_together = block.blanks && whole <= area.height && !has_room(whole);
    if (sheets.empty() || !has_room(first) || kept_together) next_column();
    begin_block(block.heading);
    for (const std::string& line : block.lines) {
      if (!has_room(height_of(block, line))) {
        next_column();
        begin_block(block.heading + ", continued");
      }
      add_line(block, line);
    }
    y += block_gap;
  }
};

}  // namespace

std::vector<Sheet> particulars(const site::Site& site, const Metrics& metrics,
                               const std::vector<LineBlock>& blocks) {
  const Paper paper = paper_of(site);
  const Rect area{paper.frame.x + inset, paper.frame.y + inset, paper.frame.width - 2.0 * inset,
                  title_top(site, paper) - paper.frame.y - 2.0 * inset};
  const double columns = std::min(3.0, (area.width + column_gap) / (least_column + column_gap));
  Filling filling{
      site, metrics, area, std::max<std::size_t>(1, static_cast<std::size_t>(columns)), {}};
  for (const LineBlock& block : blocks)
    filling.add(block);
  return std::move(filling.sheets);
}

}  // namespace linewright::diagram
