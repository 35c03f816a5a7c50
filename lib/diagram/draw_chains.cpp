#include <algorithm>

#include "diagram/draw.hpp"

namespace linewright::diagram {

using site::none;

Group& element_group(const Drawing& drawing, Sketch& sketch, std::size_t element) {
  const site::Element& what = drawing.site.elements[element];
  Group& group =
      sketch.group("element", what.designation,
                   what.name.empty() ? what.designation : what.designation + " " + what.name,
                   describe(drawing.site, element));
  group.data["kind"] = kind_word(what);
  return group;
}

Group& draw_run(const Drawing& drawing, Sketch& sketch, std::size_t run, std::vector<Point> way) {
  const site::Run& what = drawing.site.runs[run];
  Group& group =
      sketch.group("run", what.designation, what.designation, describe(drawing.site, what));
  group.data["from"] = terminal_words(drawing.site, what.from);
  group.data["to"] = terminal_words(drawing.site, what.to);
  const bool earth_only = (what.conductors - site::earths).empty();
  if (way.size() > 1 && way.front() != way.back())
    sketch.line(group, std::move(way), earth_only ? Stroke::protective : Stroke::wire);
  return group;
}

double hub_y(const Drawing& drawing, std::size_t hub) {
  const Hub& what = drawing.plan.hubs[hub];
  const Rows& rows = drawing.placed.arrangement.rows;
  return drawing.placed.row_top[rows.below(what.tier, what.rank)];
}

double hub_x(const Drawing& drawing, std::size_t hub) {
  const auto& groups = drawing.placed.arrangement.groups;
  for (std::size_t g = 0; g < groups.size(); ++g)
    if (groups[g].hub == hub) return drawing.placed.group_x[g];
  return 0.0;
}

Point source_origin(const Drawing& drawing, std::size_t hub) {
  return {hub_x(drawing, hub), drawing.placed.area.top + drawing.measures.sources[hub].symbol_top};
}

double chain_top(const Drawing& drawing, const Metrics& metrics, std::size_t chain) {
  const Chain& what = drawing.plan.chains[chain];
  const Hub& upper = drawing.plan.hubs[what.upper];
  if (is_source(upper)) {
    if (upper.element == none) return source_origin(drawing, what.upper).y;
    const SymbolShape& shape = shape_of(metrics, symbol_name(drawing.site, upper.element));
    const Point port = what.upper_port == "out" ? Point{} : port_of(shape, what.upper_port);
    return source_origin(drawing, what.upper).y + port.y;
  }
  constexpr double changeover = 15.0;
  return hub_y(drawing, what.upper) + (upper.kind == HubKind::changeover ? changeover : 0.0);
}

double chain_bottom(const Drawing& drawing, std::size_t chain) {
  const Hub& lower = drawing.plan.hubs[drawing.plan.chains[chain].lower];
  const Placed& placed = drawing.placed;
  const double channel = placed.row_top[placed.arrangement.chain_rows[chain].middle];
  switch (lower.kind) {
    case HubKind::load:
      return placed.table_top;
    case HubKind::pendant:
      return lower.element != none && is_met(drawing.site.elements[lower.element])
                 ? channel + met_drop
                 : channel + 1.25;
    case HubKind::reference_out:
      return lower.frame == none ? channel + cable_room(drawing.measures.chains[chain]) + 7.5
                                 : placed.frames[lower.frame].y + tag_arrow;
    default:
      return hub_y(drawing, drawing.plan.chains[chain].lower);
  }
}

std::string left_throw(const Drawing& drawing, std::size_t hub) {
  const OrderInput input{.plan = drawing.plan,
                         .arrangement = drawing.placed.arrangement,
                         .measures = drawing.measures,
                         .area = drawing.placed.area};
  const auto ways = throws_of(input, hub, drawing.placed.ordered.position);
  return ways.empty() ? "I" : drawing.plan.chains[ways.front()].lower_port;
}

namespace {

void add_stack(const Stack& stack, double top, std::vector<Stand>& stands) {
  for (const StackPiece& piece : stack.pieces)
    stands.push_back({piece.piece, top + piece.top, top + piece.top + piece.height});
}

}  // namespace

// Heights of the elements of a chain; runs take what lies between them.
std::vector<Stand> stands_of(const Drawing& drawing, const Metrics& metrics, std::size_t chain) {
  const Placed& placed = drawing.placed;
  const ChainRows& rows = placed.arrangement.chain_rows[chain];
  const ChainShape& shape = drawing.measures.chains[chain];
  const Chain& what = drawing.plan.chains[chain];
  std::vector<Stand> stands;
  double upper = placed.row_top[rows.upper];
  const HubKind kind = drawing.plan.hubs[what.upper].kind;
  if (is_source(drawing.plan.hubs[what.upper])) upper = chain_top(drawing, metrics, chain);
  if (is_source(drawing.plan.hubs[what.upper])) upper += drawing.measures.sources[what.upper].lead;
  if (kind == HubKind::changeover) upper = chain_top(drawing, metrics, chain) - module_width;
  add_stack(shape.upper, upper, stands);
  if (shape.middle.empty()) {
    for (const Piece& piece : shape.between)
      stands.push_back({piece, 0.0, 0.0});
  } else {
    add_stack(shape.middle, placed.row_top[rows.middle], stands);
  }
  const Rows& grid = placed.arrangement.rows;
  const bool entry =
      rows.lower == grid.below(drawing.plan.hubs[what.lower].tier, 0) || grid.tiers() == 0;
  add_stack(shape.lower,
            entry ? placed.row_bottom(rows.lower) - shape.lower.height : placed.row_top[rows.lower],
            stands);
  return stands;
}

namespace {

// From an element's lower port, or the chain's top, down to the next element or the chain's end.
std::vector<Point> way_of(const std::vector<Stand>& stands, std::size_t index, double x, double top,
                          double bottom) {
  double from = top;
  double to = bottom;
  for (std::size_t i = 0; i < index; ++i)
    if (stands[i].piece.kind == Piece::Kind::element) from = stands[i].bottom;
  for (std::size_t i = stands.size(); i > index + 1; --i)
    if (stands[i - 1].piece.kind == Piece::Kind::element) to = stands[i - 1].top;
  return {{x, from}, {x, to}};
}

bool first_after_element(const std::vector<Stand>& stands, std::size_t index) {
  return index == 0 || stands[index - 1].piece.kind == Piece::Kind::element;
}

}  // namespace

double throw_x(const Drawing& drawing, std::size_t chain) {
  const Chain& what = drawing.plan.chains[chain];
  const bool left = what.lower_port == left_throw(drawing, what.lower);
  return hub_x(drawing, what.lower) + (left ? -5.0 : 5.0);
}

namespace {

void draw_element(const Drawing& drawing, Sketch& sketch, const Stand& stand, double x,
                  bool labelled) {
  Group& group = element_group(drawing, sketch, stand.piece.index);
  const std::string symbol = symbol_name(drawing.site, stand.piece.index);
  sketch.symbol(group, symbol, {x, stand.top});
  if (!labelled) return;
  const Rect bounds = shape_of(sketch.metrics, symbol).bounds;
  sketch.label(group,
               {x + std::max(bounds.x + bounds.width, 0.0) + label_gap, stand.top + first_line},
               label_of(drawing.site, stand.piece.index));
}

void draw_strokes(const Drawing& drawing, Sketch& sketch, Group& group, const site::Run& run,
                  Point at) {
  if (!run.cable) return;
  const std::string name = strokes_name(run.conductors);
  if (!name.empty()) sketch.symbol(group, name, at);
  (void)drawing;
}

// A run of a chain: its wire, its strokes, its words in grey at its right.
void draw_piece_run(const Drawing& drawing, Sketch& sketch, std::size_t chain,
                    const std::vector<Stand>& stands, std::size_t index, std::vector<Point> way) {
  const Placed& placed = drawing.placed;
  const site::Run& run = drawing.site.runs[stands[index].piece.index];
  const double x = way.front().x;
  Group& group = draw_run(drawing, sketch, stands[index].piece.index, std::move(way));
  if (!run.cable) return;
  const ChainShape& shape = drawing.measures.chains[chain];
  const Stand& stand = stands[index];
  if (drawing.plan.hubs[drawing.plan.chains[chain].lower].kind == HubKind::load) {
    draw_strokes(drawing, sketch, group, run, {x, placed.table_top - 5.0});
    return;
  }
  if (stand.bottom > stand.top) {
    const auto lines = cable_lines(run, CableLines::narrow);
    const double height = line_pitch * static_cast<double>(lines.size()) - 1.0;
    const double middle = (stand.top + stand.bottom) / 2.0;
    draw_strokes(drawing, sketch, group, run, {x, middle});
    sketch.grey_lines(group, {x + 2.5, middle - height / 2.0 + text_height}, lines);
    return;
  }
  if (shape.cable.empty()) return;
  if (drawing.plan.hubs[drawing.plan.chains[chain].lower].kind == HubKind::pendant) {
    const double lines = static_cast<double>(shape.cable.size());
    Point at{x - 1.75, chain_bottom(drawing, chain) - 2.5 - line_pitch * (lines - 1.0)};
    for (const std::string& line : shape.cable) {
      sketch.text(group, {.at = at, .text = line, .ink = Ink::grey, .anchor = Anchor::end});
      at.y += line_pitch;
    }
    return;
  }
  const std::size_t row = placed.arrangement.chain_rows[chain].middle;
  const double height = line_pitch * static_cast<double>(shape.cable.size()) - 1.0;
  const Hub& lower = drawing.plan.hubs[drawing.plan.chains[chain].lower];
  const bool leaf = lower.kind == HubKind::reference_out && lower.frame == none;
  const double middle =
      leaf ? placed.row_top[row] + 2.0 + height / 2.0 : placed.row_bottom(row) - 2.0 - height / 2.0;
  draw_strokes(drawing, sketch, group, run, {x, middle});
  sketch.grey_lines(group, {x + 2.5, middle - height / 2.0 + text_height}, shape.cable);
}

void draw_chain(const Drawing& drawing, Sketch& sketch, std::size_t chain) {
  const Chain& what = drawing.plan.chains[chain];
  const double x = drawing.placed.chain_x[chain];
  const double top = chain_top(drawing, sketch.metrics, chain);
  const double bottom = chain_bottom(drawing, chain);
  const auto stands = stands_of(drawing, sketch.metrics, chain);
  const bool to_throw = drawing.plan.hubs[what.lower].kind == HubKind::changeover;
  const double end_x = to_throw ? throw_x(drawing, chain) : x;
  for (std::size_t i = 0; i < stands.size(); ++i) {
    const Stand& stand = stands[i];
    if (stand.piece.kind == Piece::Kind::element) {
      draw_element(drawing, sketch, stand, x, drawing.plan.hubs[what.lower].kind != HubKind::load);
      continue;
    }
    std::vector<Point> way{{x, top}};
    if (first_after_element(stands, i)) way = way_of(stands, i, x, top, bottom);
    const bool last =
        std::none_of(stands.begin() + static_cast<std::ptrdiff_t>(i), stands.end(),
                     [](const Stand& s) { return s.piece.kind == Piece::Kind::element; });
    if (last && end_x != x && way.size() > 1) way.push_back({end_x, bottom});
    draw_piece_run(drawing, sketch, chain, stands, i, std::move(way));
  }
  const bool ends_bare = stands.empty() || stands.back().piece.kind == Piece::Kind::element;
  const double from = stands.empty() ? top : stands.back().bottom;
  if (ends_bare && (from < bottom - 1e-6 || end_x != x)) {
    Group& group = sketch.group("joint", "", "", "");
    std::vector<Point> way{{x, from}, {x, bottom}};
    if (end_x != x) way.push_back({end_x, bottom});
    sketch.line(group, std::move(way), Stroke::wire);
  }
  const bool begins_bare = !stands.empty() && stands.front().piece.kind == Piece::Kind::element;
  if (begins_bare && top < stands.front().top - 1e-6) {
    Group& group = sketch.group("joint", "", "", "");
    sketch.line(group, {{x, top}, {x, stands.front().top}}, Stroke::wire);
  }
}

}  // namespace

void draw_chains(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t c = 0; c < drawing.plan.chains.size(); ++c)
    draw_chain(drawing, sketch, c);
}

}  // namespace linewright::diagram
