// Lines, bars and stubs of a picture, and where on them the site's terminals are.
#include <algorithm>
#include <cmath>
#include <utility>

#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using Hanging = PictureHub::Hanging;

site::Terminal none_at_all() {
  return {none, 0};
}

const site::Run* run_of(const PictureLayout& layout, const Piece& piece) {
  return piece.kind == Piece::Kind::run ? &layout.what.site.runs[piece.index] : nullptr;
}

/// Bounds of a stretch among the pieces of a chain.
struct Bounds {
  std::size_t from = 0;
  std::size_t to = 0;
};

site::Terminal run_terminal(const PictureLayout& layout, const Chain& chain, Bounds bounds) {
  for (std::size_t i = bounds.from; i < bounds.to; ++i)
    if (const site::Run* run = run_of(layout, chain.pieces[i])) return run->from;
  return none_at_all();
}

site::Terminal stretch_terminal(const PictureLayout& layout, const Chain& chain, Bounds bounds) {
  const site::Terminal inside = run_terminal(layout, chain, bounds);
  if (inside.element != none) return inside;
  if (bounds.from == 0) return terminal_of(layout, chain.upper, chain.upper_port);
  return terminal_of(layout, chain.lower, chain.lower_port);
}

bool lies_flat(const Hub& hub) {
  return hub.kind == HubKind::bar || hub.kind == HubKind::joint;
}

// The terminal of a run that a chain of the hub begins or ends with.
site::Terminal run_beside(const PictureLayout& layout, std::size_t hub) {
  for (const Piece& piece : layout.what.hubs[hub].covered)
    if (const site::Run* run = run_of(layout, piece)) return run->from;
  for (const Chain& chain : layout.what.plan.chains) {
    if (chain.pieces.empty()) continue;
    const site::Run* run = nullptr;
    if (chain.upper == hub) run = run_of(layout, chain.pieces.front());
    if (chain.lower == hub) run = run_of(layout, chain.pieces.back());
    if (run != nullptr && !(run->conductors - site::earths).empty()) return run->from;
  }
  return none_at_all();
}

void draw_bar(const Canvas& canvas, std::size_t hub) {
  const PictureLayout& layout = canvas.layout;
  const double y = hub_y(layout.drawing(), hub);
  const bool joint = layout.what.plan.hubs[hub].kind == HubKind::joint;
  const double end = joint ? 0.7 / layout.scale : 0.0;
  const Point left = canvas.at(layout.placed.bar_left[hub] - end, y);
  const Point right = canvas.at(layout.placed.bar_right[hub] + end, y);
  const site::Terminal terminal = terminal_of(layout, hub, "");
  const Feed& feed = feed_at(canvas, terminal);
  const std::size_t element = layout.what.plan.hubs[hub].element;
  const std::string id = element == none || joint ? "" : canvas.site.elements[element].designation;
  Group& group =
      picture_group(canvas, "picture-line", id, id, "fed by " + feed_words(canvas, feed));
  group.data["feed"] = feed_words(canvas, feed);
  if (terminal.element != none) group.data["terminal"] = terminal_words(canvas.site, terminal);
  draw_fed(canvas, group, {left, right}, look_of(canvas, feed, Thick::bar));
  constexpr double clear = 1.9;  // room for the way of a fault above and below
  canvas.sketch.taken.push_back({left.x, left.y - clear, right.x - left.x, 2.0 * clear});
}

void draw_stretch(const Canvas& canvas, const Stretch& stretch) {
  if (stretch.way.size() < 2) return;
  const Feed& feed = feed_at(canvas, stretch.terminal);
  Group& group =
      picture_group(canvas, "picture-line", "", "", "fed by " + feed_words(canvas, feed));
  group.data["feed"] = feed_words(canvas, feed);
  if (stretch.terminal.element != none)
    group.data["terminal"] = terminal_words(canvas.site, stretch.terminal);
  std::vector<Point> points;
  for (const Point& p : stretch.way)
    points.push_back(canvas.at(p));
  draw_fed(canvas, group, points, look_of(canvas, feed, Thick::line));
  constexpr double clear = 1.6;  // room for the way of a fault on both sides
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double left = std::min(points[i - 1].x, points[i].x);
    const double top = std::min(points[i - 1].y, points[i].y);
    const bool level = std::abs(points[i - 1].y - points[i].y) < 0.01;
    const double across = level ? 0.6 : clear;
    const double along = level ? 1.9 : 0.6;
    canvas.sketch.taken.push_back({left - across, top - along,
                                   std::max(points[i - 1].x, points[i].x) - left + 2.0 * across,
                                   std::max(points[i - 1].y, points[i].y) - top + 2.0 * along});
  }
}

// Circuits: an arrow, how many there are below it.
void draw_stub(const Canvas& canvas, std::size_t chain) {
  const PictureLayout& layout = canvas.layout;
  const ChainDrawing drawn = chain_drawing(layout, canvas.set, chain);
  const Stretch& last = drawn.stretches.back();
  const Point tip = canvas.at(last.way.back());
  const Feed& feed = feed_at(canvas, last.terminal);
  const Look look = look_of(canvas, feed, Thick::line);
  const std::size_t hub = layout.what.plan.chains[chain].lower;
  Group& group =
      picture_group(canvas, "picture-circuits", "", "", "fed by " + feed_words(canvas, feed));
  for (const double side : {-0.9, 0.9})
    draw_fed(canvas, group, {{tip.x + side, tip.y - 1.6}, tip}, {look.stroke, look.source});
  for (Item& item : group.items)
    if (auto* line = std::get_if<Polyline>(&item)) line->source = look.source;
  canvas.sketch.text(group, {.at = {tip.x, tip.y + 1.0 + text_height},
                             .text = circuits_in_words(layout.what.hubs[hub].circuits),
                             .ink = feed.sources.empty() ? Ink::grey : Ink::black,
                             .anchor = Anchor::middle});
}

}  // namespace

namespace {

// The tip of a stub: near its bar where nothing else can be below, else below the frame.
double stub_bottom(const PictureLayout& layout, std::size_t chain, double channel) {
  const Plan& plan = layout.what.plan;
  const Hub& upper = plan.hubs[plan.chains[chain].upper];
  const ChainShape& shape = layout.measures.chains[chain];
  const bool lowest = upper.frame != none && upper.rank == plan.frames[upper.frame].ranks;
  if (lowest && shape.upper.empty())
    return hub_y(layout.drawing(), plan.chains[chain].upper) + stub_length / layout.scale;
  return channel + 1.5 / layout.scale - 1.25;
}

}  // namespace

site::Terminal terminal_of(const PictureLayout& layout, std::size_t hub, const std::string& port) {
  const Hub& what = layout.what.plan.hubs[hub];
  if (what.kind == HubKind::bar) return {what.element, 0};
  if (!lies_flat(what) && what.element != none) {
    const std::size_t index = layout.what.site.find_terminal(what.element, port);
    if (index != none) return {what.element, index};
  }
  const site::Terminal beside = run_beside(layout, hub);
  if (beside.element != none || what.element == none) return beside;
  return {what.element, 0};
}

std::vector<Point> ChainDrawing::way() const {
  std::vector<Point> points;
  for (const Stretch& stretch : stretches)
    for (const Point& p : stretch.way)
      if (points.empty() || !(points.back() == p)) points.push_back(p);
  return points;
}

ChainDrawing chain_drawing(const PictureLayout& layout, const PictureSet& set, std::size_t chain) {
  const Drawing drawing = layout.drawing();
  const Chain& what = layout.what.plan.chains[chain];
  const double x = layout.placed.chain_x[chain];
  double at = chain_top(drawing, layout.metrics, chain);
  double bottom = chain_bottom(drawing, chain);
  const PictureHub& end = layout.what.hubs[what.lower];
  if (end.hanging == Hanging::stub) bottom = stub_bottom(layout, chain, bottom);
  std::vector<Stand> stands;
  for (const Stand& stand : stands_of(drawing, layout.metrics, chain))
    if (stand.piece.kind == Piece::Kind::element && stand.bottom > stand.top)
      stands.push_back(stand);
  ChainDrawing drawn;
  std::size_t from = 0;
  std::size_t next = 0;
  for (std::size_t i = 0; i < what.pieces.size() && next < stands.size(); ++i) {
    const Piece& piece = what.pieces[i];
    if (piece.kind != Piece::Kind::element || !is_drawn(layout.what.site, set, piece.index))
      continue;
    const Stand& stand = stands[next++];
    const site::Terminal above = stretch_terminal(layout, what, {from, i});
    drawn.stretches.push_back({{{x, at}, {x, stand.top}}, above});
    drawn.devices.push_back({.element = piece.index,
                             .top = {x, stand.top},
                             .bottom = {x, stand.bottom},
                             .above = above,
                             .below = {},
                             .words = layout.words[chain]});
    from = i + 1;
    at = stand.bottom;
  }
  Stretch last{{{x, at}, {x, bottom}}, stretch_terminal(layout, what, {from, what.pieces.size()})};
  const bool to_throw = layout.what.plan.hubs[what.lower].kind == HubKind::changeover;
  if (to_throw) last.way.push_back({throw_x(drawing, chain), bottom});
  drawn.stretches.push_back(std::move(last));
  for (std::size_t d = 0; d < drawn.devices.size(); ++d)
    drawn.devices[d].below = drawn.stretches[d + 1].terminal;
  return drawn;
}

Point middle_of(const PictureLayout& layout, std::size_t hub) {
  const Drawing drawing = layout.drawing();
  const Hub& what = layout.what.plan.hubs[hub];
  if (is_source(what)) {
    const Point origin = source_origin(drawing, hub);
    if (what.element == none) return origin;
    const SymbolShape& shape =
        shape_of(layout.metrics, symbol_name(layout.what.site, what.element));
    if (what.kind == HubKind::inverter)
      return {origin.x, origin.y + lowest_port(shape) - 2.5 - contact_rise / layout.scale};
    return {origin.x, origin.y + shape.bounds.y + shape.bounds.height / 2.0};
  }
  if (what.kind == HubKind::changeover) return {hub_x(drawing, hub), hub_y(drawing, hub) + 10.0};
  return {layout.placed.bar_left[hub], lies_flat(what) ? hub_y(drawing, hub) : 0.0};
}

Point end_at(const PictureLayout& layout, const PictureSet& set, std::size_t chain,
             std::size_t hub) {
  const std::vector<Point> way = chain_drawing(layout, set, chain).way();
  return layout.what.plan.chains[chain].upper == hub ? way.front() : way.back();
}

void draw_picture_lines(const Canvas& canvas) {
  const Plan& plan = canvas.layout.what.plan;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    const PictureHub& end = canvas.layout.what.hubs[plan.chains[c].lower];
    if (end.hanging == Hanging::bond || end.hanging == Hanging::earth_terminal) continue;
    const ChainDrawing drawn = chain_drawing(canvas.layout, canvas.set, c);
    for (const Stretch& stretch : drawn.stretches)
      draw_stretch(canvas, stretch);
    for (const Stood& device : drawn.devices)
      draw_picture_switch(canvas, device);
    if (end.hanging == Hanging::stub) draw_stub(canvas, c);
  }
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (lies_flat(plan.hubs[h]) && plan.hubs[h].frame != none) draw_bar(canvas, h);
}

}  // namespace linewright::diagram
