#include "diagram/sheet_ink.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

// The edges of a frame may be crossed, but a balloon does not stand on them.
void take_edges(const Rect& r, SheetInk& ink) {
  const Point right_top{r.x + r.width, r.y};
  const Point left_bottom{r.x, r.y + r.height};
  const Point right_bottom{r.x + r.width, r.y + r.height};
  ink.wires.push_back({{r.x, r.y}, right_top});
  ink.wires.push_back({{r.x, r.y}, left_bottom});
  ink.wires.push_back({right_top, right_bottom});
  ink.wires.push_back({left_bottom, right_bottom});
}

void take_group(const Metrics& metrics, const Group& group, SheetInk& ink) {
  const bool printed = group.kind == "title-block" || group.kind == "notes";
  const bool wide = group.kind == "frame" || group.kind == "boundary";
  for (const Item& item : group.items) {
    if (const auto* text = std::get_if<Text>(&item)) {
      ink.words.push_back(ink_of(metrics, *text));
    } else if (const auto* use = std::get_if<SymbolUse>(&item)) {
      ink.symbols.push_back(bounds_of(metrics, *use));
    } else if (const auto* box = std::get_if<Box>(&item)) {
      if (group.kind == "boundary")
        take_edges(box->rect, ink);
      else if (!wide)
        ink.words.push_back(box->rect);
    } else if (const auto* line = std::get_if<Polyline>(&item); line != nullptr && !wide) {
      for (std::size_t i = 1; i < line->points.size(); ++i) {
        const Segment piece{line->points[i - 1], line->points[i]};
        if (printed || group.kind == "table")
          ink.words.push_back(around(piece, 0.3));
        else
          ink.wires.push_back(piece);
      }
    }
  }
}

}  // namespace

SheetInk ink_on(const Sketch& sketch) {
  SheetInk ink;
  for (const Group& group : sketch.sheet.groups)
    take_group(sketch.metrics, group, ink);
  return ink;
}

Rect bounds_of(const Metrics& metrics, const SymbolUse& use) {
  const Rect b = shape_of(metrics, use.symbol).bounds;
  const bool half = use.quarter_turns % 4 == 2;
  return half ? Rect{use.at.x - b.x - b.width, use.at.y - b.y - b.height, b.width, b.height}
              : Rect{use.at.x + b.x, use.at.y + b.y, b.width, b.height};
}

Rect around(const Segment& s, double margin) {
  return {std::min(s.a.x, s.b.x) - margin, std::min(s.a.y, s.b.y) - margin,
          std::abs(s.a.x - s.b.x) + 2.0 * margin, std::abs(s.a.y - s.b.y) + 2.0 * margin};
}

Rect grown(const Rect& r, double by) {
  return {r.x - by, r.y - by, r.width + 2.0 * by, r.height + 2.0 * by};
}

Rect joined(const Rect& a, const Rect& b) {
  const double left = std::min(a.x, b.x);
  const double top = std::min(a.y, b.y);
  return {left, top, std::max(a.x + a.width, b.x + b.width) - left,
          std::max(a.y + a.height, b.y + b.height) - top};
}

// Whether a straight line passes a rectangle: cut off at each edge in turn what is beyond it.
bool passes(const Segment& s, const Rect& r) {
  double from = 0.0;
  double to = 1.0;
  const double dx = s.b.x - s.a.x;
  const double dy = s.b.y - s.a.y;
  const std::array<std::array<double, 2>, 4> edges{{{-dx, s.a.x - r.x},
                                                    {dx, r.x + r.width - s.a.x},
                                                    {-dy, s.a.y - r.y},
                                                    {dy, r.y + r.height - s.a.y}}};
  for (const auto& [p, q] : edges) {
    if (p == 0.0) {
      if (q < 0.0) return false;
      continue;
    }
    const double at = q / p;
    if (p < 0.0)
      from = std::max(from, at);
    else
      to = std::min(to, at);
    if (from >= to) return false;
  }
  return true;
}

}  // namespace linewright::diagram
