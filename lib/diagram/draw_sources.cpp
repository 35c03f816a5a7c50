#include <algorithm>
#include <cmath>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

// Designation and data centred above a symbol of the DC side.
void label_above(const Drawing& drawing, Sketch& sketch, Group& group, std::size_t element,
                 Point origin) {
  const Label label = label_of(drawing.site, element);
  const Rect bounds = shape_of(sketch.metrics, symbol_name(drawing.site, element)).bounds;
  const double lines = static_cast<double>(label.lines.size());
  sketch.label(group, {origin.x, origin.y + bounds.y - 1.25 - lines * line_pitch}, label,
               Anchor::middle);
}

struct Span {
  double top;
  double bottom;
};

// The wire of the run at `index` of a branch goes from the element above it to that below it.
Span run_span(const BranchShape& branch, std::size_t index, double top, double bottom) {
  Span span{top, bottom};
  const auto& pieces = branch.stack.pieces;
  for (std::size_t i = 0; i < index; ++i)
    if (pieces[i].piece.kind == Piece::Kind::element)
      span.top = top + pieces[i].top + pieces[i].height;
  for (std::size_t i = pieces.size(); i > index + 1; --i)
    if (pieces[i - 1].piece.kind == Piece::Kind::element) span.bottom = top + pieces[i - 1].top;
  return span;
}

void draw_branch(const Drawing& drawing, Sketch& sketch, const BranchShape& shape, Point inverter,
                 Point port, bool alone) {
  const double x = inverter.x + shape.offset;
  const double top = inverter.y - shape.stack.height;
  for (std::size_t i = 0; i < shape.stack.pieces.size(); ++i) {
    const StackPiece& piece = shape.stack.pieces[i];
    if (piece.piece.kind == Piece::Kind::element) {
      Group& group = element_group(drawing, sketch, piece.piece.index);
      const std::string symbol = symbol_name(drawing.site, piece.piece.index);
      sketch.symbol(group, symbol, {x, top + piece.top});
      const Rect bounds = shape_of(sketch.metrics, symbol).bounds;
      sketch.label(
          group,
          {x + std::max(bounds.x + bounds.width, 0.0) + label_gap, top + piece.top + first_line},
          label_of(drawing.site, piece.piece.index));
      continue;
    }
    const Span span = run_span(shape, i, top, inverter.y);
    std::vector<Point> way{{x, span.top}, {x, span.bottom}};
    if (span.bottom >= inverter.y - 1e-6 && (x != port.x || !alone)) {
      way.back().y = inverter.y - module_width;
      if (x != port.x) way.push_back({port.x, inverter.y - module_width});
      if (alone) way.push_back({port.x, inverter.y});
    }
    Group& group = draw_run(drawing, sketch, piece.piece.index, std::move(way));
    const site::Run& run = drawing.site.runs[piece.piece.index];
    if (piece.height <= 0.0) continue;
    const double middle = top + piece.top + piece.height / 2.0;
    const auto lines = cable_lines(run, CableLines::narrow);
    const double height = line_pitch * static_cast<double>(lines.size()) - 1.0;
    const std::string strokes = strokes_name(run.conductors);
    if (!strokes.empty()) sketch.symbol(group, strokes, {x, middle});
    sketch.grey_lines(group, {x + 2.5, middle - height / 2.0 + text_height}, lines);
  }
}

// Where the branches of one port come together.
void draw_dc_joint(Sketch& sketch, Point port) {
  const Point joint{port.x, port.y - module_width};
  Group& group = sketch.group("joint", "", "", "");
  sketch.line(group, {joint, port}, Stroke::wire);
  group.items.emplace_back(Dot{joint, 1.75});
}

void draw_dc(const Drawing& drawing, Sketch& sketch, std::size_t hub, Point origin) {
  const Hub& what = drawing.plan.hubs[hub];
  const SymbolShape& symbol = shape_of(sketch.metrics, symbol_name(drawing.site, what.element));
  for (const BranchShape& shape : drawing.measures.sources[hub].branches) {
    const auto side = std::find_if(what.dc.begin(), what.dc.end(),
                                   [&](const DcSide& s) { return s.port == shape.port; });
    const Branch& branch = side->branches[shape.branch];
    const Point port{origin.x + port_of(symbol, shape.port).x, origin.y};
    const bool alone = side->branches.size() == 1;
    draw_branch(drawing, sketch, shape, origin, port, alone);
    if (!alone && shape.branch == 0) draw_dc_joint(sketch, port);
    if (branch.source == none) continue;
    Group& group = element_group(drawing, sketch, branch.source);
    const Point at{origin.x + shape.offset, origin.y - shape.stack.height};
    sketch.symbol(group, symbol_name(drawing.site, branch.source), at);
    label_above(drawing, sketch, group, branch.source, at);
  }
}

// Where the left side of a machine is at some height: a generator is round.
double side_at(const Site& site, std::size_t element, Point origin, const Rect& bounds, double y) {
  const double left = origin.x + bounds.x;
  if (site::facts<site::Generator>(site.elements[element]) == nullptr) return left;
  const double radius = bounds.width / 2.0;
  const double off = y - (origin.y + bounds.y + radius);
  return left + radius - std::sqrt(std::max(0.0, radius * radius - off * off));
}

bool is_electrode(const Site& site, std::size_t element) {
  return element != none && site::facts<site::Electrode>(site.elements[element]) != nullptr;
}

// A joint with earth at the left of a machine: out from its side, down through the bond to earth.
void draw_attachments(const Drawing& drawing, Sketch& sketch, std::size_t hub, Point origin) {
  const Hub& what = drawing.plan.hubs[hub];
  const Rect bounds = shape_of(sketch.metrics, symbol_name(drawing.site, what.element)).bounds;
  double x = origin.x + bounds.x;
  double y = std::round((origin.y + bounds.y + bounds.height / 2.0) / 1.25) * 1.25;
  const double joint = y;
  if (const std::string bond = inner_bond_symbol(drawing.site, what.element); !bond.empty()) {
    const double axis = x - (bond == "neutral-earth-contact" ? 5.0 : 7.5);
    Group& group = sketch.group("bond", "", "neutral-earth joint of the machine itself", "");
    sketch.line(group, {{x, y}, {axis, y}, {axis, y + 2.5}}, Stroke::wire);
    sketch.symbol(group, bond, {axis, y + 2.5});
    sketch.symbol(group, "protective-earth", {axis, y + 17.5});
    x -= inner_bond_room;
    y -= module_width;  // above the joint of the machine itself
  }
  for (std::size_t i = 0; i < what.attachments.size(); ++i) {
    const Attachment& attachment = what.attachments[i];
    const double label =
        attachment.element == none
            ? 0.0
            : label_width(sketch.metrics, label_of(drawing.site, attachment.element));
    // Each leaves the machine above the last one.
    const double level = y - module_width * static_cast<double>(i);
    const double from = side_at(drawing.site, what.element, origin, bounds, level);
    x -= 5.0;
    double bottom = joint + 2.5;
    draw_run(drawing, sketch, attachment.run, {{from, level}, {x, level}, {x, bottom}});
    if (attachment.element != none) {
      Group& group = element_group(drawing, sketch, attachment.element);
      sketch.symbol(group, symbol_name(drawing.site, attachment.element), {x, bottom});
      sketch.label(group, {x - 3.75, bottom + 7.0}, label_of(drawing.site, attachment.element),
                   Anchor::end);
      bottom += 15.0;
    }
    if (!is_electrode(drawing.site, attachment.element)) {
      Group& earth = sketch.group("earth", "", "protective earth", "");
      sketch.symbol(earth, "protective-earth", {x, bottom});
    }
    x -= 5.0 + label;
  }
}

void draw_supply(const Drawing& drawing, Sketch& sketch, std::size_t hub, Point origin) {
  const std::size_t element = drawing.plan.hubs[hub].element;
  Group& group = element_group(drawing, sketch, element);
  sketch.symbol(group, "supply-point", origin);
  const site::Element& supply = drawing.site.elements[element];
  const Point title{origin.x - 7.5, origin.y - 2.75};
  sketch.text(
      group,
      {.at = title, .text = supply.designation, .height = heading_height, .weight = Weight::bold});
  sketch.text(
      group,
      {.at = {title.x + 2.0 +
                  sketch.metrics.text_width(supply.designation, heading_height, Weight::bold),
              title.y},
       .text = supply.name,
       .height = heading_height});
  sketch.label(group, {origin.x + 7.5 + label_gap, origin.y + 1.75},
               {.designation = "", .lines = label_of(drawing.site, element).lines});
}

void draw_reference(const Drawing& drawing, Sketch& sketch, std::size_t hub, Point origin) {
  const Hub& what = drawing.plan.hubs[hub];
  Group& group = reference_group(sketch, what);
  sketch.line(group, {{origin.x - 1.25, origin.y - 3.0}, {origin.x, origin.y}}, Stroke::symbol);
  sketch.line(group, {{origin.x + 1.25, origin.y - 3.0}, {origin.x, origin.y}}, Stroke::symbol);
  Point line{origin.x + 2.5, origin.y - 4.0};
  for (const std::string& words : what.reference) {
    const Text text{.at = line, .text = words};
    group.items.emplace_back(Link{ink_of(sketch.metrics, text), reference_id(what, End::other)});
    sketch.text(group, text);
    line.y += line_pitch;
  }
}

}  // namespace

void draw_sources(const Drawing& drawing, Sketch& sketch) {
  for (std::size_t hub = 0; hub < drawing.plan.hubs.size(); ++hub) {
    const Hub& what = drawing.plan.hubs[hub];
    if (!is_source(what)) continue;
    const Point origin = source_origin(drawing, hub);
    if (what.kind == HubKind::reference_in) {
      draw_reference(drawing, sketch, hub, origin);
      continue;
    }
    if (what.kind == HubKind::supply) {
      draw_supply(drawing, sketch, hub, origin);
    } else {
      const std::string symbol = symbol_name(drawing.site, what.element);
      Group& group = element_group(drawing, sketch, what.element);
      sketch.symbol(group, symbol, origin);
      const Rect bounds = shape_of(sketch.metrics, symbol).bounds;
      const double first_baseline =
          what.kind == HubKind::generator ? origin.y + bounds.y + 3.0 : origin.y + 6.0;
      sketch.label(group, {origin.x + bounds.x + bounds.width + label_gap, first_baseline},
                   label_of(drawing.site, what.element));
      draw_dc(drawing, sketch, hub, origin);
    }
    draw_attachments(drawing, sketch, hub, origin);
  }
}

}  // namespace linewright::diagram
