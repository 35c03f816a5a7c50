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
  sketch.label(bar, {at.x + 12.5 + label_gap, at.y + 1.0}, words);
  const double count = static_cast<double>(hub.attachments.size());
  for (std::size_t i = 0; i < hub.attachments.size(); ++i) {
    const Attachment& attachment = hub.attachments[i];
    const double x = at.x + (static_cast<double>(i) - (count - 1.0) / 2.0) * 2.0 * circles;
    draw_run(drawing, sketch, attachment.run, {{x, at.y + 0.6}, {x, at.y + 5.0}});
    if (attachment.element == none) continue;
    Group& group = element_group(drawing, sketch, attachment.element);
    sketch.symbol(group, symbol_name(drawing.site, attachment.element), {x, at.y + 5.0});
    sketch.label(group, {x + 3.75, at.y + 9.5}, label_of(drawing.site, attachment.element));
  }
}

void draw_reference(const Drawing& drawing, Sketch& sketch, const Hub& hub, Point at) {
  Group& group = sketch.group("reference", "", hub.reference, "");
  sketch.line(group, {{at.x - 1.25, at.y - 3.0}, {at.x, at.y}}, Stroke::symbol);
  sketch.line(group, {{at.x + 1.25, at.y - 3.0}, {at.x, at.y}}, Stroke::symbol);
  const Text words{.at = {at.x + 2.5, at.y - 0.5}, .text = hub.reference};
  group.items.emplace_back(Link{ink_of(sketch.metrics, words), hub.target});
  sketch.text(group, words);
  (void)drawing;
}

}  // namespace

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
