// The table of findings: a row a finding, its words wrapped, over as many sheets as it takes.
#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "diagram/flag_parts.hpp"
#include "diagram/lettering.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

constexpr std::size_t column_count = 7;
constexpr double cell_gap = 2.0;
constexpr double row_gap = 1.75;
using Cells = std::array<std::string, column_count>;
using Widths = std::array<double, column_count>;

constexpr std::array<const char*, column_count> heads{"No",      "Severity",   "At",  "In state",
                                                      "Finding", "What to do", "Rule"};

// Numbers and names take what they need, as far as they leave room for words, which share the rest.
Widths widths_for(const Metrics& metrics, const std::vector<Flag>& flags, double all) {
  Widths widths{8.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  const auto fit = [&](std::size_t column, const std::string& words, double most) {
    widths[column] = std::max(
        widths[column],
        std::min(most, metrics.text_width(words, text_height, Weight::regular) + cell_gap));
  };
  for (std::size_t c = 1; c < 4; ++c)
    fit(c, heads[c], 40.0);
  for (const Flag& flag : flags) {
    fit(1, flag.severity, 20.0);
    fit(2, flag.element, 25.0);
    fit(3, flag.state, all / 10.0);
  }
  const double rest = all - widths[0] - widths[1] - widths[2] - widths[3];
  widths[4] = rest * 0.40;
  widths[5] = rest * 0.35;
  widths[6] = rest * 0.25;
  return widths;
}

Cells cells_of(const Flag& flag, std::size_t number) {
  return {flag.numbered ? fmt::format("{}", number) : "–",
          flag.severity,
          flag.element.empty() ? "–" : flag.element,
          flag.state.empty() ? "–" : flag.state,
          flag.finding,
          flag.mend,
          flag.rule};
}

/// The words of a row, cell by cell, and its height.
struct Row {
  std::array<std::vector<std::string>, column_count> lines;
  double height = 0.0;
};

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

Row row_of(const Metrics& metrics, const Cells& cells, const Widths& widths) {
  Row row;
  std::size_t most = 1;
  for (std::size_t c = 0; c < column_count; ++c) {
    row.lines[c] = cell_lines(metrics, cells[c], widths[c] - cell_gap);
    most = std::max(most, row.lines[c].size());
  }
  row.height = line_pitch * static_cast<double>(most) + row_gap;
  return row;
}

void put_row(Sketch& sketch, Group& group, const Row& row, const Widths& widths, Point at,
             Ink ink) {
  double x = at.x;
  for (std::size_t c = 0; c < column_count; ++c) {
    double y = at.y + text_height;
    for (const std::string& line : row.lines[c]) {
      sketch.text(group, {.at = {x, y},
                          .text = line,
                          .weight = c == 0 && ink == Ink::black ? Weight::bold : Weight::regular,
                          .ink = ink});
      y += line_pitch;
    }
    x += widths[c];
  }
}

/// The table under way.
struct Table {
  const site::Site& site;
  const Metrics& metrics;
  const Widths& widths;
  Rect area;
  std::vector<Sheet> sheets;
  double y = 0.0;

  void begin_sheet() {
    const Paper paper = paper_of(site);
    sheets.push_back(sheet_of(paper, fmt::format("findings-{}", sheets.size() + 1), "Findings"));
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    draw_frame(sketch);
    Group& group = sketch.group("flag-table", "", "Findings", "");
    Cells words;
    std::copy(heads.begin(), heads.end(), words.begin());
    const Row row = row_of(metrics, words, widths);
    put_row(sketch, group, row, widths, {area.x, area.y}, Ink::grey);
    y = area.y + row.height;
    group.items.emplace_back(
        Polyline{{{area.x, y - 1.0}, {area.x + area.width, y - 1.0}}, Stroke::rule});
  }

  void add(const Flag& flag, std::size_t number) {
    const Row row = row_of(metrics, cells_of(flag, number), widths);
    if (sheets.empty() || y + row.height > area.y + area.height) begin_sheet();
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    Group& group = flag.numbered
                       ? sketch.group("finding", fmt::format("finding {}", number),
                                      fmt::format("{}: {}", number, flag.finding), flag.mend)
                       : sketch.group("open", "", flag.finding, flag.mend);
    group.data = {{"element", flag.element}, {"rule", flag.rule}, {"severity", flag.severity}};
    put_row(sketch, group, row, widths, {area.x, y + 0.5}, Ink::black);
    y += row.height;
    group.items.emplace_back(
        Polyline{{{area.x, y - 0.5}, {area.x + area.width, y - 0.5}}, Stroke::hairline});
  }

  void remark(const std::string& words) {
    if (words.empty()) return;
    const std::vector<std::string> lines = wrapped(metrics, words, area.width);
    const double height = line_pitch * static_cast<double>(lines.size());
    if (sheets.empty() || y + height + 2.0 > area.y + area.height) begin_sheet();
    Sketch sketch{.metrics = metrics, .sheet = sheets.back(), .taken = {}, .symbols = {}};
    Group& group = sketch.group("notes", "", "Remark", "");
    y += 2.0;
    for (const std::string& line : lines) {
      sketch.text(group, {.at = {area.x, y + text_height}, .text = line});
      y += line_pitch;
    }
  }
};

}  // namespace

std::vector<Sheet> flag_tables(const site::Site& site, const Metrics& metrics,
                               const std::vector<Flag>& flags, const std::string& remark) {
  const Paper paper = paper_of(site);
  const Rect area{paper.frame.x + 4.0, paper.frame.y + 4.0, paper.frame.width - 8.0,
                  title_top(site, paper) - paper.frame.y - 8.0};
  const Widths widths = widths_for(metrics, flags, area.width);
  Table table{site, metrics, widths, area, {}};
  for (std::size_t i = 0; i < flags.size(); ++i)
    table.add(flags[i], i + 1);
  table.remark(remark);
  return std::move(table.sheets);
}

}  // namespace linewright::diagram
