#include <algorithm>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

std::string_view means_word(site::InterlockMeans means) {
  switch (means) {
    case site::InterlockMeans::mechanical:
      return "mechanical interlock";
    case site::InterlockMeans::key:
      return "key interlock";
    case site::InterlockMeans::electrical:
      return "electrical interlock";
    case site::InterlockMeans::control:
      return "interlock by control";
    case site::InterlockMeans::unknown:
      return "interlock";
  }
  return "interlock";
}

// Where the drive of a switching element is reached from its left.
std::vector<Point> drives(const Drawing& drawing, const Sketch& sketch,
                          const site::Interlock& interlock) {
  std::vector<Point> points;
  for (const site::PositionOf& position : interlock.never_together) {
    const std::string& id = drawing.site.elements[position.element].designation;
    for (const Group& group : sketch.sheet.groups) {
      if (group.kind != "element" || group.id != id) continue;
      for (const Item& item : group.items) {
        const auto* use = std::get_if<SymbolUse>(&item);
        if (use == nullptr) continue;
        const bool changeover = use->symbol.starts_with("changeover");
        points.push_back({use->at.x - (changeover ? 0.0 : 1.25), use->at.y + 7.5});
      }
    }
  }
  return points;
}

bool crosses(const Sketch& sketch, Point a, Point b) {
  const Rect way{std::min(a.x, b.x), a.y - 0.25, std::abs(a.x - b.x), 0.5};
  return !sketch.is_free(way);
}

}  // namespace

void draw_interlocks(const Drawing& drawing, Sketch& sketch) {
  for (const site::Interlock& interlock : drawing.site.interlocks) {
    std::vector<Point> points = drives(drawing, sketch, interlock);
    if (points.size() < 2) continue;
    std::sort(points.begin(), points.end(), [](Point a, Point b) { return a.x < b.x; });
    (void)crosses;
    (void)means_word;
  }
}

}  // namespace linewright::diagram
