#include <algorithm>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

struct NameRoom {
  double designation = 0.0;
  double all = 0.0;
};

NameRoom name_room(const Metrics& metrics, const site::Assembly& assembly) {
  NameRoom room;
  room.designation = metrics.text_width(assembly.designation, heading_height, Weight::bold);
  room.all = room.designation;
  if (!assembly.name.empty())
    room.all += 2.0 + metrics.text_width(assembly.name, heading_height, Weight::regular);
  return room;
}

Group& boundary_group(Sketch& sketch, const site::Assembly& assembly) {
  for (Group& group : sketch.sheet.groups)
    if (group.kind == "boundary" && group.id == assembly.designation) return group;
  return sketch.group("boundary", assembly.designation, assembly.designation + " " + assembly.name,
                      assembly.name);
}

}  // namespace

void draw_boundaries(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t f = 0; f < drawing.plan.frames.size(); ++f) {
    const std::size_t assembly = drawing.plan.frames[f].assembly;
    if (assembly == none) continue;
    Group& group = boundary_group(sketch, drawing.site.assemblies[assembly]);
    group.items.emplace_back(
        Box{.rect = drawing.placed.frames[f], .stroke = Stroke::boundary, .fill = Ink::pale});
  }
}

// Inside the frame at its upper left, further right or at the bottom where lines cross there, at
// last above it.
void name_boundaries(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t f = 0; f < drawing.plan.frames.size(); ++f) {
    const std::size_t index = drawing.plan.frames[f].assembly;
    if (index == none || is_tag(drawing.plan, f)) continue;
    const site::Assembly& assembly = drawing.site.assemblies[index];
    const Rect& frame = drawing.placed.frames[f];
    const NameRoom room = name_room(sketch.metrics, assembly);
    std::vector<Point> spots;
    for (const double rise : {5.0, 6.0})
      for (double x = frame.x + 2.5; x + room.all <= frame.x + frame.width - 1.0; x += 1.25)
        spots.push_back({x, frame.y + rise});
    for (double x = frame.x + 2.5; x + room.all <= frame.x + frame.width - 1.0; x += 1.25)
      spots.push_back({x, frame.y + frame.height - 2.5});
    for (double x = frame.x; x + room.all <= frame.x + frame.width; x += 1.25)
      spots.push_back({x, frame.y - 1.5});
    const auto clear = [&](Point at) {
      return sketch.is_free(
          {at.x - 1.25, at.y - heading_height, room.all + 2.5, heading_height + 1.25});
    };
    const auto free = std::find_if(spots.begin(), spots.end(), clear);
    const Point at = free == spots.end() ? Point{frame.x, frame.y - 1.5} : *free;
    Group& group = boundary_group(sketch, assembly);
    sketch.text(
        group,
        {.at = at, .text = assembly.designation, .height = heading_height, .weight = Weight::bold});
    sketch.text(group, {.at = {at.x + room.designation + 2.0, at.y},
                        .text = assembly.name,
                        .height = heading_height});
  }
}

}  // namespace linewright::diagram
