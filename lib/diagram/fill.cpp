#include "diagram/fill.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "diagram/measure.hpp"
#include "diagram/paper.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {
namespace {

constexpr double cell = 2.5;
constexpr double around = 2.5;  ///< half the distance that neighbours keep

std::optional<Rect> united(const std::optional<Rect>& a, const std::optional<Rect>& b) {
  if (!a) return b;
  if (!b) return a;
  const double left = std::min(a->x, b->x);
  const double top = std::min(a->y, b->y);
  return Rect{left, top, std::max(a->x + a->width, b->x + b->width) - left,
              std::max(a->y + a->height, b->y + b->height) - top};
}

std::optional<Rect> extent_of(const Item& item, const Metrics& metrics) {
  if (const auto* text = std::get_if<Text>(&item)) return ink_of(metrics, *text);
  if (const auto* box = std::get_if<Box>(&item)) return box->rect;
  if (const auto* use = std::get_if<SymbolUse>(&item)) {
    const Rect bounds = shape_of(metrics, use->symbol).bounds;
    return Rect{use->at.x + bounds.x, use->at.y + bounds.y, bounds.width, bounds.height};
  }
  std::optional<Rect> extent;
  if (const auto* line = std::get_if<Polyline>(&item))
    for (const Point point : line->points)
      extent = united(extent, Rect{point.x, point.y, 0.0, 0.0});
  return extent;
}

// Wires and links go round other things: each of their pieces counts by itself.
bool is_whole(const Group& group) {
  return group.kind != "run" && group.kind != "joint" && group.kind != "interlock";
}

/// The cells of the drawing area.
struct Cells {
  Rect area;
  std::size_t columns = 0;
  std::size_t rows = 0;
  std::vector<bool> covered;

  void cover(const Rect& rect) {
    const auto index = [](double at, std::size_t most) {
      return std::min(most, static_cast<std::size_t>(std::max(0.0, std::round(at / cell))));
    };
    const std::size_t right = index(rect.x + rect.width + around - area.x, columns);
    const std::size_t bottom = index(rect.y + rect.height + around - area.y, rows);
    for (std::size_t row = index(rect.y - around - area.y, rows); row < bottom; ++row)
      for (std::size_t column = index(rect.x - around - area.x, columns); column < right; ++column)
        covered[row * columns + column] = true;
  }
};

Cells cells_of(const Sheet& sheet) {
  Cells cells{.area = frame_of(sheet)};
  cells.columns = static_cast<std::size_t>(std::max(0.0, cells.area.width / cell));
  cells.rows = static_cast<std::size_t>(std::max(0.0, cells.area.height / cell));
  cells.covered.assign(cells.columns * cells.rows, false);
  return cells;
}

double count(const Cells& cells) {
  return static_cast<double>(std::count(cells.covered.begin(), cells.covered.end(), true));
}

}  // namespace

double fill(const Sheet& sheet, const Metrics& metrics) {
  Cells title = cells_of(sheet);
  Cells drawn = title;
  for (const Group& group : sheet.groups) {
    if (group.kind == "frame") continue;
    std::optional<Rect> whole;
    for (const Item& item : group.items) {
      const std::optional<Rect> extent = extent_of(item, metrics);
      if (extent && !is_whole(group)) drawn.cover(*extent);
      whole = united(whole, extent);
    }
    if (whole && is_whole(group)) (group.kind == "title-block" ? title : drawn).cover(*whole);
  }
  double covered = 0.0;
  for (std::size_t i = 0; i < drawn.covered.size(); ++i)
    covered += drawn.covered[i] && !title.covered[i] ? 1.0 : 0.0;
  const double room = static_cast<double>(title.covered.size()) - count(title);
  return room <= 0.0 ? 0.0 : covered / room;
}

}  // namespace linewright::diagram
