// Sources of a picture with their joints of neutral and earth; what hangs on bars towards earth.
#include <algorithm>
#include <array>
#include <utility>

#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using Hanging = PictureHub::Hanging;

/// A source where it stands on the sheet.
struct Stage {
  std::size_t hub = none;
  std::size_t element = none;
  Point origin;  ///< of its symbol, in the layout
  bool runs = false;
  Look own;  ///< of what it feeds
};

Stage stage_of(const Canvas& canvas, std::size_t hub) {
  Stage stage{.hub = hub, .element = canvas.layout.what.plan.hubs[hub].element};
  stage.origin = source_origin(canvas.layout.drawing(), hub);
  stage.runs = std::ranges::count(canvas.picture.running, stage.element) > 0;
  const auto& set = canvas.set.sources;
  const auto found = std::ranges::find(set, stage.element);
  if (stage.runs && found != set.end())
    stage.own = {Stroke::live, static_cast<int>(found - set.begin()) + 1};
  return stage;
}

Rect symbol_box(const Canvas& canvas, const Stage& stage) {
  const Rect bounds =
      shape_of(canvas.layout.metrics, symbol_name(canvas.layout.what.site, stage.element)).bounds;
  const Point corner = canvas.at(stage.origin.x + bounds.x, stage.origin.y + bounds.y);
  return {corner.x, corner.y, bounds.width * canvas.layout.scale,
          bounds.height * canvas.layout.scale};
}

// Mark and designation above the symbol, from its left edge.
void name_source(const Canvas& canvas, Group& group, const Stage& stage, double left, double top) {
  const std::string mark = mark_of_source(canvas.set, stage.element);
  const Point middle{left + tag_diameter / 2.0, top - 0.8 - tag_diameter / 2.0};
  draw_tag(canvas, group, middle, mark);
  canvas.sketch.text(group, {.at = {left + tag_diameter + 0.9, middle.y + text_height / 2.0},
                             .text = canvas.site.elements[stage.element].designation,
                             .weight = Weight::bold,
                             .ink = stage.runs ? Ink::black : Ink::grey});
  if (is_moved(canvas.picture, {stage.element, "runs"})) {
    const double width = canvas.sketch.metrics.text_width(
        canvas.site.elements[stage.element].designation, text_height, Weight::bold);
    group.items.emplace_back(Box{.rect = {left - 0.7, middle.y - tag_diameter / 2.0 - 0.5,
                                          tag_diameter + width + 2.3, tag_diameter + 1.0},
                                 .stroke = Stroke::flag});
  }
}

void draw_supply(const Canvas& canvas, Group& group, const Stage& stage) {
  const Rect box = symbol_box(canvas, stage);
  const double y = canvas.at(stage.origin).y;
  const Look look{stage.runs ? Stroke::live_bar : Stroke::dead_bar, stage.own.source};
  draw_fed(canvas, group, {{box.x, y}, {box.x + box.width, y}}, look);
  name_source(canvas, group, stage, box.x, y);
}

void draw_generator(const Canvas& canvas, Group& group, const Stage& stage) {
  const Point port = canvas.at(stage.origin);
  const double radius = std::max(5.0 * canvas.layout.scale, least_radius);
  const Point middle{port.x, port.y - radius - 2.5 * canvas.layout.scale};
  constexpr int corners = 24;
  constexpr std::array<Point, 6> unit{{{1.0, 0.0},
                                       {0.965925826289, 0.258819045103},
                                       {0.866025403784, 0.5},
                                       {0.707106781187, 0.707106781187},
                                       {0.5, 0.866025403784},
                                       {0.258819045103, 0.965925826289}}};
  std::vector<Point> ring;
  for (std::size_t i = 0; i < corners; ++i) {
    Point p = unit[i % unit.size()];
    for (std::size_t quarter = 0; quarter < i / unit.size(); ++quarter)
      p = {-p.y, p.x};
    ring.push_back({middle.x + radius * p.x, middle.y + radius * p.y});
  }
  Polyline circle{.points = std::move(ring),
                  .stroke = stage.runs ? Stroke::rule : Stroke::dead,
                  .closed = true,
                  .fill = Ink::white};
  group.items.emplace_back(std::move(circle));
  canvas.sketch.taken.push_back({middle.x - radius, middle.y - radius, 2 * radius, 2 * radius});
  draw_fed(canvas, group, {{middle.x, middle.y + radius}, port}, stage.own);
  canvas.sketch.text(group, {.at = {middle.x, middle.y + text_height / 2.0 - 0.4},
                             .text = "G",
                             .ink = stage.runs ? Ink::black : Ink::grey,
                             .anchor = Anchor::middle});
  name_source(canvas, group, stage, middle.x - radius, middle.y - radius);
}

std::string inverter_words(const site::Element& element) {
  std::string words;
  for (const auto& [port, mark] : {std::pair{"pv", "PV"}, std::pair{"battery", "BAT"}})
    if (std::ranges::count(element.terminals, port) > 0)
      words += (words.empty() ? "" : " ") + std::string(mark);
  return words;
}

// The contact between grid side and backup side, inside the box.
void draw_transfer(const Canvas& canvas, Group& group, const Stage& stage, const Rect& box) {
  const PictureLayout& layout = canvas.layout;
  const auto look = [&](const std::string& port) {
    return look_of(canvas, feed_at(canvas, terminal_of(layout, stage.hub, port)), Thick::line);
  };
  const SymbolShape& shape = shape_of(layout.metrics, symbol_name(layout.what.site, stage.element));
  const double bottom = box.y + box.height;
  const double y = bottom - contact_rise;
  const double left = canvas.at(stage.origin.x + port_of(shape, "ac").x, 0.0).x;
  const double right = canvas.at(stage.origin.x + port_of(shape, "backup").x, 0.0).x;
  const double middle = (left + right) / 2.0;
  const bool closed = position_of(canvas.picture, {stage.element, "transfer"}) == "closed";
  draw_fed(canvas, group, {{left, bottom}, {left, y}, {middle - 1.3, y}}, look("ac"));
  draw_fed(canvas, group, {{right, bottom}, {right, y}, {middle + 1.5, y}}, look("backup"));
  const Point tip = closed ? Point{middle - 1.3, y} : Point{middle - 0.9, y - 1.4};
  draw_fed(canvas, group, {{middle + 1.5, y}, tip}, look("backup"));
}

void draw_inverter(const Canvas& canvas, Group& group, const Stage& stage) {
  const PictureLayout& layout = canvas.layout;
  const SymbolShape& shape = shape_of(layout.metrics, symbol_name(layout.what.site, stage.element));
  const site::Element& element = canvas.site.elements[stage.element];
  const double low = lowest_port(shape);
  const Rect box = inverter_box(canvas, stage.hub);
  const double middle = box.x + box.width / 2.0;
  const double bottom = box.y + box.height;
  group.items.emplace_back(
      Box{.rect = box, .stroke = stage.runs ? Stroke::rule : Stroke::dead, .fill = Ink::white});
  canvas.sketch.taken.push_back(box);
  const bool backup = std::ranges::count(element.terminals, "backup") > 0;
  const double baseline = backup ? box.y + 0.6 + text_height : (box.y + bottom + text_height) / 2.0;
  canvas.sketch.text(group, {.at = {middle, baseline},
                             .text = inverter_words(element),
                             .ink = stage.runs ? Ink::black : Ink::grey,
                             .anchor = Anchor::middle});
  if (backup) draw_transfer(canvas, group, stage, box);
  for (const std::string port : {"ac", "backup"}) {
    if (std::ranges::count(element.terminals, port) == 0) continue;
    const double x = canvas.at(stage.origin.x + port_of(shape, port).x, 0.0).x;
    const Look look =
        look_of(canvas, feed_at(canvas, terminal_of(layout, stage.hub, port)), Thick::line);
    draw_fed(canvas, group, {{x, bottom}, {x, canvas.at(0.0, stage.origin.y + low).y}}, look);
  }
  name_source(canvas, group, stage, box.x, box.y);
}

std::string bond_position(const Canvas& canvas, const SwitchId& bond) {
  const site::Element& element = canvas.site.elements[bond.first];
  const auto found = canvas.picture.positions.find(bond);
  if (found != canvas.picture.positions.end()) return found->second;
  const auto* inverter = site::facts<site::Inverter>(element);
  return inverter != nullptr && inverter->bond == site::BondContact::closes_in_island ? "open" : "";
}

// Joints with earth stand left of the symbol, the source's own nearest to it.
void draw_bonds(const Canvas& canvas, const Stage& stage) {
  const Hub& hub = canvas.layout.what.plan.hubs[stage.hub];
  const std::vector<SwitchId> bonds = bonds_at(canvas.layout.what.site, hub);
  for (std::size_t i = 0; i < bonds.size(); ++i) {
    const Point axis = canvas.at(bond_axis(canvas.layout, stage.hub, i));
    const bool works = std::ranges::count(canvas.picture.bonds, bonds[i].first) > 0;
    const site::Element& element = canvas.site.elements[bonds[i].first];
    Group& group = picture_group(canvas, "picture-bond", element.designation + " bond",
                                 element.designation + ": neutral to earth", works ? "works" : "");
    group.data["works"] = works ? "yes" : "no";
    const double from = i == 0 ? canvas.at(stage.origin).x : axis.x + bond_room;
    const Rect box = symbol_box(canvas, stage);
    const double start = i == 0 ? std::min(from, box.x + 0.2) : from;
    canvas.sketch.line(group, {{start, axis.y}, axis}, works ? Stroke::frame : Stroke::dead);
    draw_earth(canvas, group, {axis, bond_position(canvas, bonds[i]), works});
    if (is_moved(canvas.picture, bonds[i]))
      group.items.emplace_back(
          Box{.rect = {axis.x - 1.9, axis.y - 0.2, 3.0, 4.4}, .stroke = Stroke::flag});
  }
}

void draw_reference(const Canvas& canvas, std::size_t hub) {
  const Point origin = canvas.at(source_origin(canvas.layout.drawing(), hub));
  Group& group = picture_group(canvas, "picture-reference", "", "", "");
  double y = origin.y - 1.0;
  for (const std::string& words : canvas.layout.what.plan.hubs[hub].reference) {
    canvas.sketch.text(group, {.at = {origin.x + 1.2, y}, .text = words});
    y += line_pitch;
  }
}

// Where a chain towards earth leaves its bar and where its symbol begins.
void draw_hanging(const Canvas& canvas, std::size_t chain) {
  const PictureLayout& layout = canvas.layout;
  const PictureHub& end = layout.what.hubs[layout.what.plan.chains[chain].lower];
  const std::vector<Point> way = chain_drawing(layout, canvas.set, chain).way();
  const Point top = canvas.at(way.front());
  const Point foot = canvas.at(way.back());
  const site::Element& element = canvas.site.elements[end.element];
  const bool bond = end.hanging == Hanging::bond;
  const bool works = bond && std::ranges::count(canvas.picture.bonds, end.element) > 0;
  Group& group = picture_group(canvas, bond ? "picture-bond" : "picture-earth", element.designation,
                               element.designation + " " + element.name, "");
  if (bond) group.data["works"] = works ? "yes" : "no";
  canvas.sketch.line(group, {top, foot}, works ? Stroke::frame : Stroke::dead);
  const SwitchId id{end.element, ""};
  const auto* facts = site::facts<site::Bond>(element);
  const bool contact = facts != nullptr && facts->contact;
  draw_earth(canvas, group, {foot, contact ? position_of(canvas.picture, id) : "", works});
  canvas.sketch.text(group, {.at = {foot.x + device_words, foot.y + 2.6},
                             .text = element.designation,
                             .weight = Weight::bold,
                             .ink = bond ? Ink::black : Ink::grey});
  if (is_moved(canvas.picture, id))
    group.items.emplace_back(
        Box{.rect = {foot.x - 1.9, foot.y - 0.2, 3.4, 4.4}, .stroke = Stroke::flag});
}

}  // namespace

double lowest_port(const SymbolShape& shape) {
  double low = 0.0;
  for (const Port& port : shape.ports)
    low = std::max(low, port.at.y);
  return low;
}

Rect inverter_box(const Canvas& canvas, std::size_t hub) {
  const PictureLayout& layout = canvas.layout;
  const SymbolShape& shape =
      shape_of(layout.metrics, symbol_name(layout.what.site, layout.what.plan.hubs[hub].element));
  const Point origin = source_origin(layout.drawing(), hub);
  const double half = std::max(shape.bounds.width * layout.scale / 2.0 - 0.2, inverter_half - 0.4);
  const Point top = canvas.at(origin);
  const Point bottom = canvas.at(origin.x, origin.y + lowest_port(shape) - 2.5);
  return {top.x - half, top.y, 2.0 * half, bottom.y - top.y};
}

Point bond_axis(const PictureLayout& layout, std::size_t hub, std::size_t index) {
  const Hub& what = layout.what.plan.hubs[hub];
  const Point origin = source_origin(layout.drawing(), hub);
  const Rect bounds = shape_of(layout.metrics, symbol_name(layout.what.site, what.element)).bounds;
  const double half = what.kind == HubKind::inverter
                          ? std::max(bounds.width / 2.0, inverter_half / layout.scale)
                          : bounds.width / 2.0;
  const double y =
      what.kind == HubKind::supply ? origin.y : origin.y + bounds.y + bounds.height / 2.0;
  return {origin.x - half - (static_cast<double>(index) + 0.45) * bond_room / layout.scale, y};
}

void draw_earth(const Canvas& canvas, Group& group, const Hung& earth) {
  const Stroke pen = earth.works ? Stroke::frame : Stroke::dead;
  Point at = earth.from;
  const auto down = [&](double length) {
    canvas.sketch.line(group, {at, {at.x, at.y + length}}, pen);
    at.y += length;
  };
  down(1.0);
  if (!earth.position.empty()) {
    const Point pivot{at.x, at.y + 2.2};
    const Point tip = earth.position == "closed" ? at : Point{at.x - 1.2, at.y + 0.1};
    canvas.sketch.line(group, {{at.x - 0.6, at.y}, {at.x + 0.6, at.y}},
                       earth.works ? Stroke::symbol : Stroke::dead);
    canvas.sketch.line(group, {pivot, tip}, pen);
    at = pivot;
  }
  down(1.0);
  for (const double half : {1.5, 1.0, 0.4}) {
    canvas.sketch.line(group, {{at.x - half, at.y}, {at.x + half, at.y}}, pen);
    at.y += 0.9;
  }
}

void draw_picture_sources(const Canvas& canvas) {
  const Plan& plan = canvas.layout.what.plan;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const Hub& hub = plan.hubs[h];
    if (!is_source(hub)) continue;
    if (hub.element == none) {
      draw_reference(canvas, h);
      continue;
    }
    const Stage stage = stage_of(canvas, h);
    const site::Element& element = canvas.site.elements[hub.element];
    Group& group = picture_group(canvas, "picture-source", element.designation,
                                 element.designation + " " + element.name,
                                 stage.runs ? "runs" : "does not run");
    group.data["runs"] = stage.runs ? "yes" : "no";
    if (hub.kind == HubKind::supply) draw_supply(canvas, group, stage);
    if (hub.kind == HubKind::generator) draw_generator(canvas, group, stage);
    if (hub.kind == HubKind::inverter) draw_inverter(canvas, group, stage);
    draw_bonds(canvas, stage);
  }
}

void draw_picture_earths(const Canvas& canvas) {
  const Plan& plan = canvas.layout.what.plan;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    const Hanging hanging = canvas.layout.what.hubs[plan.chains[c].lower].hanging;
    if (hanging == Hanging::bond || hanging == Hanging::earth_terminal) draw_hanging(canvas, c);
  }
}

}  // namespace linewright::diagram
