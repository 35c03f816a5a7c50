#include <algorithm>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

void draw_joint(const Drawing& drawing, Sketch& sketch, std::size_t hub) {
  const double y = hub_y(drawing, hub);
  const double left = drawing.placed.bar_left[hub];
  const double right = drawing.placed.bar_right[hub];
  Group& group = sketch.group("joint", "", "", "");
  if (right > left) sketch.line(group, {{left, y}, {right, y}}, Stroke::wire);
  const auto& chains = drawing.plan.chains;
  for (std::size_t c = 0; c < chains.size(); ++c) {
    if (chains[c].upper != hub && chains[c].lower != hub) continue;
    const double x = drawing.placed.chain_x[c];
    int meeting = x > left && x < right ? 2 : right > left ? 1 : 0;
    for (std::size_t other = 0; other < chains.size(); ++other)
      if ((chains[other].upper == hub || chains[other].lower == hub) &&
          drawing.placed.chain_x[other] == x)
        ++meeting;
    if (meeting >= 3) sketch.dot(group, {x, y});
  }
}

void draw_bar(const Drawing& drawing, Sketch& sketch, std::size_t hub) {
  constexpr double joint_on_bar = 1.75;
  const Hub& what = drawing.plan.hubs[hub];
  const double y = hub_y(drawing, hub);
  Group& group = what.continued ? sketch.group("reference", "", "continuation of a bar", "")
                                : element_group(drawing, sketch, what.element);
  sketch.line(group, {{drawing.placed.bar_left[hub], y}, {drawing.placed.bar_right[hub], y}},
              Stroke::busbar);
  const auto& chains = drawing.plan.chains;
  for (std::size_t c = 0; c < chains.size(); ++c)
    if (chains[c].upper == hub || chains[c].lower == hub)
      group.items.emplace_back(Dot{{drawing.placed.chain_x[c], y}, joint_on_bar});
}

void draw_changeover(const Drawing& drawing, Sketch& sketch, std::size_t hub) {
  const Hub& what = drawing.plan.hubs[hub];
  Group& group = element_group(drawing, sketch, what.element);
  std::string symbol = symbol_name(drawing.site, what.element);
  if (left_throw(drawing, hub) == "II") symbol += "-swapped";
  const Point at{hub_x(drawing, hub), hub_y(drawing, hub)};
  sketch.symbol(group, symbol, at);
  sketch.label(group, {at.x + 8.0 + label_gap, at.y + first_line},
               label_of(drawing.site, what.element));
}

// The runs inside a joint have no length on the sheet; they are marked where the joint is.
void mark_inner_runs(const Drawing& drawing, Sketch& sketch, std::size_t hub) {
  for (const std::size_t run : drawing.plan.hubs[hub].inner_runs)
    draw_run(drawing, sketch, run, {});
}

std::vector<Text> bar_words(const Drawing& drawing, const Sketch& sketch, std::size_t hub,
                            Point at) {
  Label label = label_of(drawing.site, drawing.plan.hubs[hub].element);
  if (drawing.plan.hubs[hub].continued) label.lines = {"continued"};
  std::vector<Text> words{{.at = at, .text = label.designation, .weight = Weight::bold}};
  if (!label.lines.empty()) {
    at.x += sketch.metrics.text_width(label.designation, text_height, Weight::bold) + 1.5;
    words.push_back({.at = at, .text = label.lines.front()});
  }
  return words;
}

}  // namespace

void draw_bars(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t hub = 0; hub < drawing.plan.hubs.size(); ++hub) {
    const Hub& what = drawing.plan.hubs[hub];
    if (what.frame == none) continue;
    if (what.kind == HubKind::joint) draw_joint(drawing, sketch, hub);
    if (what.kind == HubKind::bar) draw_bar(drawing, sketch, hub);
    if (what.kind == HubKind::changeover) draw_changeover(drawing, sketch, hub);
    mark_inner_runs(drawing, sketch, hub);
  }
}

// Above the bar from its left end on, else level with it at an end, else below it, else farther
// away.
std::optional<Point> bar_name_spot(const Drawing& drawing, const Sketch& sketch, std::size_t hub) {
  const Hub& what = drawing.plan.hubs[hub];
  const double y = hub_y(drawing, hub);
  const auto room = [&](Point at) {
    Rect rect = ink_of(sketch.metrics, bar_words(drawing, sketch, hub, at).front());
    for (const Text& text : bar_words(drawing, sketch, hub, at)) {
      const Rect ink = ink_of(sketch.metrics, text);
      rect.width = ink.x + ink.width - rect.x;
    }
    return Rect{rect.x - 1.0, rect.y - 1.0, rect.width + 2.0,
                rect.height + (at.y > y + 2.0 ? 1.5 : 0.25)};
  };
  const double width = room({}).width;
  const double left = drawing.placed.bar_left[hub];
  const double right = drawing.placed.bar_right[hub];
  const Rect& frame = drawing.placed.frames[what.frame];
  constexpr double step = 1.25;
  constexpr double overlap = 3.0;  // of words and bar, so that they read as one
  std::vector<Point> spots;
  for (double x = left + 0.5; x + width <= right + 1.0; x += step)
    spots.push_back({x, y - step});
  for (double x = left; x + width >= left + overlap; x -= step)
    spots.push_back({x, y - step});
  for (double away = 0.0; away <= 2 * step; away += step) {
    spots.push_back({right + 1.5 + away, y + 1.0});
    spots.push_back({left - width - away, y + 1.0});
  }
  for (double x = left + 0.5; x + width <= right + 1.0; x += step)
    spots.push_back({x, y + 4.0});
  for (double x = left; x >= frame.x + 1.5; x -= step)
    spots.push_back({x, y - step});
  for (double away = 0.0; away <= 10.0; away += step) {
    for (const double rise : {1.0, -1.25, 4.0, -3.0, 6.0}) {
      spots.push_back({left - width - away, y + rise});
      spots.push_back({right + 1.5 + away, y + rise});
    }
  }
  const auto free = std::find_if(spots.begin(), spots.end(), [&](Point at) {
    const Rect words = room(at);
    const bool inside = words.x >= frame.x && words.x + words.width <= frame.x + frame.width;
    return inside && sketch.is_free(words);
  });
  return free == spots.end() ? std::nullopt : std::optional(*free);
}

void name_bars(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t hub = 0; hub < drawing.plan.hubs.size(); ++hub) {
    const Hub& what = drawing.plan.hubs[hub];
    if (what.kind != HubKind::bar || what.frame == none) continue;
    const std::string& designation = drawing.site.elements[what.element].designation;
    const Point beside{drawing.placed.bar_left[hub] + 0.5, hub_y(drawing, hub) - 1.25};
    const Point at = bar_name_spot(drawing, sketch, hub).value_or(beside);
    if (what.continued) {
      Group& group = sketch.group("reference", "", designation + ", continued", "");
      for (const Text& text : bar_words(drawing, sketch, hub, at))
        sketch.text(group, text);
      continue;
    }
    for (Group& group : sketch.sheet.groups) {
      if (group.kind != "element" || group.id != designation) continue;
      for (const Text& text : bar_words(drawing, sketch, hub, at))
        sketch.text(group, text);
    }
  }
}

}  // namespace linewright::diagram
