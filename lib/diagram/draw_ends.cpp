#include <algorithm>

#include <fmt/core.h>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

// The bar where the earthing conductors meet, with the electrodes below it.
void draw_met(const Drawing& drawing, Sketch& sketch, const Hub& hub, Point at) {
  constexpr double circles = 5.0;  // distance of the terminals on the symbol
  Group& bar = element_group(drawing, sketch, hub.element);
  sketch.symbol(bar, "main-earthing-terminal", at);
  const Label words = label_of(drawing.site, hub.element);
  sketch.label(bar, {at.x + 1.75, at.y - met_drop + 4.0}, words);
  // The last one hangs from the middle, each further one left of it and lower, below its words.
  constexpr double step_down = 8.0;
  const double count = static_cast<double>(hub.attachments.size());
  const double step = std::min(circles, 2.0 * circles / std::max(1.0, count - 1.0));
  for (std::size_t i = 0; i < hub.attachments.size(); ++i) {
    const Attachment& attachment = hub.attachments[i];
    const double further = count - 1.0 - static_cast<double>(i);
    const double x = at.x - further * step;
    const double y = at.y + 5.0 + further * step_down;
    draw_run(drawing, sketch, attachment.run, {{x, at.y + 0.6}, {x, y}});
    if (attachment.element == none) continue;
    Group& group = element_group(drawing, sketch, attachment.element);
    sketch.symbol(group, symbol_name(drawing.site, attachment.element), {x, y});
    sketch.label(group, {x + 3.75, y + 4.5}, label_of(drawing.site, attachment.element));
  }
}

void draw_reference(const Drawing& drawing, Sketch& sketch, const Hub& hub, Point at) {
  Group& group = reference_group(sketch, hub);
  sketch.line(group, {{at.x - 1.25, at.y - 3.0}, {at.x, at.y}}, Stroke::symbol);
  sketch.line(group, {{at.x + 1.25, at.y - 3.0}, {at.x, at.y}}, Stroke::symbol);
  Point line{at.x + 2.5, at.y - 4.0};
  if (hub.frame != none) {
    const site::Assembly& board = drawing.site.assemblies[drawing.plan.frames[hub.frame].assembly];
    line.y = drawing.placed.frames[hub.frame].y + 5.25;
    sketch.text(
        group,
        {.at = line, .text = board.designation, .height = heading_height, .weight = Weight::bold});
    line.y += line_pitch + 0.25;
    for (const std::string& words : wrapped(sketch.metrics, board.name, tag_name_width)) {
      sketch.text(group, {.at = line, .text = words});
      line.y += line_pitch;
    }
  }
  for (const std::string& words : hub.reference) {
    const Text text{.at = line, .text = words};
    group.items.emplace_back(Link{ink_of(sketch.metrics, text), reference_id(hub, End::other)});
    sketch.text(group, text);
    line.y += line_pitch;
  }
}

}  // namespace

std::string reference_id(const Hub& hub, End end) {
  const bool in = (hub.kind == HubKind::reference_in) == (end == End::own);
  return fmt::format("reference {} {}", hub.link + 1, in ? "in" : "out");
}

Group& reference_group(Sketch& sketch, const Hub& hub) {
  const std::string& words = hub.reference.empty() ? std::string() : hub.reference.front();
  return sketch.group("reference", reference_id(hub, End::own), words, words);
}

void draw_ends(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t c = 0; c < drawing.plan.chains.size(); ++c) {
    const Hub& end = drawing.plan.hubs[drawing.plan.chains[c].lower];
    const Point at{drawing.placed.chain_x[c], chain_bottom(drawing, c)};
    if (end.kind == HubKind::reference_out) draw_reference(drawing, sketch, end, at);
    if (end.kind != HubKind::pendant) continue;
    if (end.element != none && is_met(drawing.site.elements[end.element])) {
      draw_met(drawing, sketch, end, at);
    } else {
      Group& group = sketch.group("earth", "", "protective earth", "");
      sketch.symbol(group, "protective-earth", at);
    }
  }
}

}  // namespace linewright::diagram
