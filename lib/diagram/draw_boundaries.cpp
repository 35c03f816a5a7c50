#include <algorithm>
#include <array>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

/// A way to write the name of a frame; lines from its upper left corner.
struct NameForm {
  std::vector<Text> texts;
  double width = 0.0;
  double height = 0.0;
};

Text bold(const site::Assembly& assembly, double height) {
  return {
      .at = {0.0, height}, .text = assembly.designation, .height = height, .weight = Weight::bold};
}

// Designation and name in one line.
NameForm in_line(const Metrics& metrics, const site::Assembly& assembly, double height) {
  NameForm form{.texts = {bold(assembly, height)}, .height = height};
  form.width = metrics.text_width(assembly.designation, height, Weight::bold);
  if (assembly.name.empty()) return form;
  form.texts.push_back({.at = {form.width + 2.0, height}, .text = assembly.name, .height = height});
  form.width += 2.0 + metrics.text_width(assembly.name, height, Weight::regular);
  return form;
}

// The name broken below the designation.
NameForm stacked(const Metrics& metrics, const site::Assembly& assembly, double width) {
  NameForm form{.texts = {bold(assembly, heading_height)}, .height = heading_height};
  form.width = metrics.text_width(assembly.designation, heading_height, Weight::bold);
  for (const std::string& line : wrapped(metrics, assembly.name, width)) {
    form.height += line_pitch;
    form.texts.push_back({.at = {0.0, form.height}, .text = line});
    form.width = std::max(form.width, metrics.text_width(line, text_height, Weight::regular));
  }
  return form;
}

// The designation alone, where nothing else fits; its name is then told beside the diagram.
NameForm short_form(const Metrics& metrics, const site::Assembly& assembly, double height) {
  NameForm form{.texts = {bold(assembly, height)}, .height = height};
  form.width = metrics.text_width(assembly.designation, height, Weight::bold);
  return form;
}

// Inside the frame along its top, else along its bottom.
std::vector<Point> spots_inside(const Rect& frame, const NameForm& form) {
  constexpr double step = 1.25;
  std::vector<Point> spots;
  const double last = frame.x + frame.width - form.width - 1.0;
  const std::array<double, 3> tops{1.5, 2.5, frame.height - form.height - 2.0};
  for (const double top : tops)
    for (double x = frame.x + 2.5; x <= last; x += step)
      spots.push_back({x, frame.y + top});
  return spots;
}

// Right above or below the frame, beginning over it.
std::vector<Point> spots_outside(const Rect& frame, const NameForm& form) {
  constexpr double step = 1.25;
  std::vector<Point> spots;
  for (const double top : {-form.height - 1.5, frame.height + 1.5})
    for (double x = frame.x + 0.5; x <= frame.x + frame.width - 5.0; x += step)
      spots.push_back({x, frame.y + top});
  return spots;
}

Group& boundary_group(Sketch& sketch, const site::Assembly& assembly) {
  for (Group& group : sketch.sheet.groups)
    if (group.kind == "boundary" && group.id == assembly.designation) return group;
  return sketch.group("boundary", assembly.designation, assembly.designation + " " + assembly.name,
                      assembly.name);
}

// Whether the bars of a frame still find room for their names if its own takes that place.
bool leaves_bars_room(const Drawing& drawing, std::size_t frame, const Rect& name, Sketch& sketch) {
  sketch.taken.push_back(name);
  bool room = true;
  for (std::size_t hub = 0; hub < drawing.plan.hubs.size() && room; ++hub) {
    const Hub& what = drawing.plan.hubs[hub];
    if (what.kind == HubKind::bar && what.frame == frame)
      room = bar_name_spot(drawing, sketch, hub).has_value();
  }
  sketch.taken.pop_back();
  return room;
}

/// A form of the name with its place.
struct NamePlace {
  const NameForm* form = nullptr;
  Point at;
};

// The first form that finds a free place; of one form the places inside the frame come first.
NamePlace place_name(const Drawing& drawing, std::size_t index, Sketch& sketch,
                     const std::vector<NameForm>& forms) {
  const Rect& frame = drawing.placed.frames[index];
  const std::vector<Rect> frames = frame_lines(sketch.sheet);
  const auto room_at = [](Point spot, const NameForm& form) {
    return Rect{spot.x - 1.25, spot.y - 0.25, form.width + 2.5, form.height + 1.25};
  };
  const auto is_free = [&](Point spot, const NameForm& form) {
    const Rect room = room_at(spot, form);
    return sketch.is_free(room) && leaves_bars_room(drawing, index, room, sketch);
  };
  const auto crosses_none = [&](Point spot, const NameForm& form) {
    const Rect room = room_at(spot, form);
    const auto meets = [&](const Rect& other) { return overlap(other, room); };
    return std::ranges::none_of(frames, meets) &&
           std::ranges::none_of(drawing.placed.frames, meets);
  };
  for (const NameForm& form : forms) {
    for (const Point spot : spots_inside(frame, form))
      if (is_free(spot, form)) return {&form, spot};
    for (const Point spot : spots_outside(frame, form))
      if (crosses_none(spot, form) && is_free(spot, form)) return {&form, spot};
  }
  return {&forms.back(), {frame.x + 2.5, frame.y + 1.5}};
}

void write_name(const Drawing& drawing, std::size_t index, Sketch& sketch) {
  const Metrics& metrics = sketch.metrics;
  const site::Assembly& assembly = drawing.site.assemblies[drawing.plan.frames[index].assembly];
  std::vector<NameForm> forms{in_line(metrics, assembly, heading_height),
                              in_line(metrics, assembly, text_height)};
  for (const double width : {30.0, 22.0, 15.0, 1.0})
    forms.push_back(stacked(metrics, assembly, width));
  forms.push_back(short_form(metrics, assembly, heading_height));
  forms.push_back(short_form(metrics, assembly, text_height));
  const auto [chosen, at] = place_name(drawing, index, sketch, forms);
  Group& group = boundary_group(sketch, assembly);
  for (Text text : chosen->texts) {
    text.at = {text.at.x + at.x, text.at.y + at.y};
    sketch.text(group, text);
  }
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

void name_boundaries(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t f = 0; f < drawing.plan.frames.size(); ++f) {
    const std::size_t index = drawing.plan.frames[f].assembly;
    if (index == none || is_tag(drawing.plan, f)) continue;
    write_name(drawing, f, sketch);
  }
}

}  // namespace linewright::diagram
