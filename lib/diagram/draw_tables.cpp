#include <algorithm>
#include <array>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr std::array<const char*, 8> heads{"circuit", "device", "poles",  "RCD",
                                           "type",    "cable",  "length", "load"};

double cell_baseline(const Drawing& drawing, int row) {
  const double height = drawing.measures.table.row_height;
  return drawing.placed.table_top + height * (row + 1) - (height - text_height) / 2.0;
}

Group* find_group(Sketch& sketch, const std::string& kind, const std::string& id) {
  for (Group& group : sketch.sheet.groups)
    if (group.kind == kind && group.id == id) return &group;
  return nullptr;
}

void cell(Sketch& sketch, Group& group, const Drawing& drawing, double x, int row,
          const std::string& words, Weight weight = Weight::regular) {
  sketch.text(group, {.at = {x, cell_baseline(drawing, row)},
                      .text = words,
                      .weight = weight,
                      .anchor = Anchor::middle});
}

void draw_name(const Drawing& drawing, Sketch& sketch, Group& group, double x,
               const std::string& name) {
  const auto lines = name_lines(sketch.metrics, name);
  const double start =
      x + text_height / 2.0 - line_pitch / 2.0 * (static_cast<double>(lines.size()) - 1.0);
  for (std::size_t i = 0; i < lines.size(); ++i)
    sketch.text(group, {.at = {start + line_pitch * static_cast<double>(i),
                               drawing.placed.table_bottom - 1.25},
                        .text = lines[i],
                        .turn = Turn::from_the_right});
}

void draw_column(const Drawing& drawing, Sketch& sketch, std::size_t chain) {
  const CircuitCells& cells = drawing.measures.cells[chain];
  const Chain& what = drawing.plan.chains[chain];
  const double x = drawing.placed.chain_x[chain];
  const auto devices = elements_of(what);
  const std::size_t load = drawing.plan.hubs[what.lower].element;
  Group* device = devices.empty() ? nullptr
                                  : find_group(sketch, "element",
                                               drawing.site.elements[devices.back()].designation);
  if (device == nullptr) device = &sketch.group("table", "", "circuit", "");
  cell(sketch, *device, drawing, x, 0, cells.circuit, Weight::bold);
  cell(sketch, *device, drawing, x, 1, cells.device);
  cell(sketch, *device, drawing, x, 2, cells.poles);
  cell(sketch, *device, drawing, x, 3, cells.residual);
  cell(sketch, *device, drawing, x, 4, cells.type);
  const site::Run* run = cable_of(drawing.site, what);
  Group* cable = run == nullptr ? nullptr : find_group(sketch, "run", run->designation);
  if (cable != nullptr) {
    cell(sketch, *cable, drawing, x, 5, cells.cable);
    cell(sketch, *cable, drawing, x, 6, cells.length);
  }
  Group& end =
      load == none ? sketch.group("table", "", "spare", "") : element_group(drawing, sketch, load);
  cell(sketch, end, drawing, x, 7, cells.load);
  draw_name(drawing, sketch, end, x, drawing.measures.names[chain]);
}

void draw_grid(const Drawing& drawing, Sketch& sketch, const std::vector<double>& axes) {
  const TableShape& table = drawing.measures.table;
  const double half = table.pitch / 2.0;
  const double left = axes.front() - half;
  const double right = axes.back() + half;
  const double top = drawing.placed.table_top;
  const double bottom = drawing.placed.table_bottom;
  Group& group = sketch.group("table", "", "circuits", "");
  const auto line = [&](Point a, Point b, Stroke stroke) {
    group.items.emplace_back(Polyline{{a, b}, stroke});
  };
  line({left, top}, {right, top}, Stroke::rule);
  line({left, bottom}, {right, bottom}, Stroke::rule);
  for (int row = 1; row <= table.rows; ++row)
    line({left, top + row * table.row_height}, {right, top + row * table.row_height},
         Stroke::hairline);
  for (const double axis : axes)
    line({axis - half, top}, {axis - half, bottom}, Stroke::hairline);
  line({right, top}, {right, bottom}, Stroke::hairline);
}

void draw_heads(const Drawing& drawing, Sketch& sketch, double left) {
  Group& group = sketch.group("table", "", "heads", "");
  for (std::size_t row = 0; row < heads.size(); ++row)
    sketch.text(group, {.at = {left - 1.25, cell_baseline(drawing, static_cast<int>(row))},
                        .text = heads[row],
                        .ink = Ink::grey,
                        .anchor = Anchor::end});
}

}  // namespace

void draw_tables(const Drawing& drawing, Sketch& sketch) {
  std::vector<std::pair<double, std::size_t>> columns;
  for (std::size_t c = 0; c < drawing.plan.chains.size(); ++c)
    if (drawing.plan.hubs[drawing.plan.chains[c].lower].kind == HubKind::load)
      columns.emplace_back(drawing.placed.chain_x[c], c);
  if (columns.empty()) return;
  std::sort(columns.begin(), columns.end());
  const double pitch = drawing.measures.table.pitch;
  std::vector<double> axes;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    axes.push_back(columns[i].first);
    const bool ends = i + 1 == columns.size() || columns[i + 1].first > axes.back() + pitch + 0.01;
    if (!ends) continue;
    draw_grid(drawing, sketch, axes);
    axes.clear();
  }
  draw_heads(drawing, sketch, columns.front().first - pitch / 2.0);
  for (const auto& [x, chain] : columns)
    draw_column(drawing, sketch, chain);
}

}  // namespace linewright::diagram
