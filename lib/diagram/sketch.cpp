#include "diagram/sketch.hpp"

#include <algorithm>
#include <utility>

#include "diagram/paper.hpp"

namespace linewright::diagram {

bool overlap(const Rect& a, const Rect& b) {
  constexpr double touch = 1e-6;
  return a.x + touch < b.x + b.width && b.x + touch < a.x + a.width &&
         a.y + touch < b.y + b.height && b.y + touch < a.y + a.height;
}

Rect ink_of(const Metrics& metrics, const Text& text) {
  constexpr double tail = 0.3;  // of the lettering height, below the baseline
  const double width = metrics.text_width(text.text, text.height, text.weight);
  double before = 0.0;
  if (text.anchor == Anchor::middle) before = width / 2.0;
  if (text.anchor == Anchor::end) before = width;
  if (text.turn == Turn::upright)
    return {text.at.x - before, text.at.y - text.height, width, text.height * (1.0 + tail)};
  return {text.at.x - text.height, text.at.y - (width - before), text.height * (1.0 + tail), width};
}

Group& Sketch::group(std::string kind, std::string id, std::string title, std::string description) {
  sheet.groups.push_back({.kind = std::move(kind),
                          .id = std::move(id),
                          .title = std::move(title),
                          .description = std::move(description)});
  return sheet.groups.back();
}

void Sketch::symbol(Group& into, const std::string& name, Point at, int quarter_turns) {
  const Rect bounds = shape_of(metrics, name).bounds;
  into.items.emplace_back(SymbolUse{name, at, quarter_turns});
  taken.push_back(quarter_turns == 2
                      ? Rect{at.x - bounds.x - bounds.width, at.y - bounds.y - bounds.height,
                             bounds.width, bounds.height}
                      : Rect{at.x + bounds.x, at.y + bounds.y, bounds.width, bounds.height});
  if (std::find(symbols.begin(), symbols.end(), name) == symbols.end()) symbols.push_back(name);
}

void Sketch::line(Group& into, std::vector<Point> points, Stroke stroke) {
  constexpr double half = 0.5;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double left = std::min(points[i - 1].x, points[i].x);
    const double top = std::min(points[i - 1].y, points[i].y);
    taken.push_back({left - half, top - half,
                     std::max(points[i - 1].x, points[i].x) - left + 2 * half,
                     std::max(points[i - 1].y, points[i].y) - top + 2 * half});
  }
  into.items.emplace_back(Polyline{std::move(points), stroke});
}

void Sketch::text(Group& into, Text text) {
  if (text.text.empty()) return;
  taken.push_back(ink_of(metrics, text));
  into.items.emplace_back(std::move(text));
}

void Sketch::dot(Group& into, Point at) {
  into.items.emplace_back(Dot{at});
}

void Sketch::label(Group& into, Point at, const Label& label, Anchor anchor) {
  if (!label.designation.empty()) {
    text(into, {.at = at, .text = label.designation, .weight = Weight::bold, .anchor = anchor});
    at.y += line_pitch;
  }
  for (const std::string& line : label.lines) {
    text(into, {.at = at, .text = line, .anchor = anchor});
    at.y += line_pitch;
  }
}

void Sketch::grey_lines(Group& into, Point at, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) {
    text(into, {.at = at, .text = line, .ink = Ink::grey});
    at.y += line_pitch;
  }
}

bool Sketch::is_free(const Rect& rect) const {
  const Rect page = frame_of(sheet);
  if (rect.x < page.x + 1.0 || rect.x + rect.width > page.x + page.width - 1.0) return false;
  return std::none_of(taken.begin(), taken.end(),
                      [&](const Rect& other) { return overlap(rect, other); });
}

std::vector<Rect> frame_lines(const Sheet& sheet) {
  constexpr double half = 0.75;
  std::vector<Rect> lines;
  for (const Group& group : sheet.groups)
    for (const Item& item : group.items) {
      const Box* box = std::get_if<Box>(&item);
      if (box == nullptr || group.kind != "boundary") continue;
      const Rect& r = box->rect;
      for (const double y : {r.y, r.y + r.height})
        lines.push_back({r.x - half, y - half, r.width + 2.0 * half, 2.0 * half});
      for (const double x : {r.x, r.x + r.width})
        lines.push_back({x - half, r.y - half, 2.0 * half, r.height + 2.0 * half});
    }
  return lines;
}

}  // namespace linewright::diagram
