// Balloons are placed by search: every place in a circle round the element is weighed by what
// balloon and leader cover there, how far it is, and whether the leader could be taken for a wire.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/core.h>

#include "diagram/flag_parts.hpp"
#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

constexpr double diameter = 7.0;
constexpr double number_height = 3.5;
constexpr std::size_t most_in_a_row = 5;

/// A straight piece of a line.
struct Segment {
  Point a;
  Point b;
};

/// What is on the sheet already.
struct Taken {
  std::vector<Rect> words;    ///< texts and what is written in
  std::vector<Rect> symbols;  ///< of elements
  std::vector<Segment> wires;
  std::vector<Rect> balloons;
  std::vector<Segment> leaders;
};

Rect around(const Segment& s, double margin) {
  return {std::min(s.a.x, s.b.x) - margin, std::min(s.a.y, s.b.y) - margin,
          std::abs(s.a.x - s.b.x) + 2.0 * margin, std::abs(s.a.y - s.b.y) + 2.0 * margin};
}

Rect grown(const Rect& r, double by) {
  return {r.x - by, r.y - by, r.width + 2.0 * by, r.height + 2.0 * by};
}

Point middle_of(const Rect& r) {
  return {r.x + r.width / 2.0, r.y + r.height / 2.0};
}

// Whether a straight line passes a rectangle: cut off at each edge in turn what is beyond it.
bool passes(const Segment& s, const Rect& r) {
  double from = 0.0;
  double to = 1.0;
  const double dx = s.b.x - s.a.x;
  const double dy = s.b.y - s.a.y;
  const std::array<std::array<double, 2>, 4> edges{{{-dx, s.a.x - r.x},
                                                    {dx, r.x + r.width - s.a.x},
                                                    {-dy, s.a.y - r.y},
                                                    {dy, r.y + r.height - s.a.y}}};
  for (const auto& [p, q] : edges) {
    if (p == 0.0) {
      if (q < 0.0) return false;
      continue;
    }
    const double at = q / p;
    if (p < 0.0)
      from = std::max(from, at);
    else
      to = std::min(to, at);
    if (from >= to) return false;
  }
  return true;
}

double side(const Segment& s, Point p) {
  return (s.b.x - s.a.x) * (p.y - s.a.y) - (s.b.y - s.a.y) * (p.x - s.a.x);
}

bool cross(const Segment& s, const Segment& t) {
  return side(s, t.a) * side(s, t.b) < 0.0 && side(t, s.a) * side(t, s.b) < 0.0;
}

Rect bounds_of(const Metrics& metrics, const SymbolUse& use) {
  const Rect b = shape_of(metrics, use.symbol).bounds;
  const bool half = use.quarter_turns % 4 == 2;
  return half ? Rect{use.at.x - b.x - b.width, use.at.y - b.y - b.height, b.width, b.height}
              : Rect{use.at.x + b.x, use.at.y + b.y, b.width, b.height};
}

// The edges of a frame may be crossed, but a balloon does not stand on them.
void take_edges(const Rect& r, Taken& ink) {
  const Point right_top{r.x + r.width, r.y};
  const Point left_bottom{r.x, r.y + r.height};
  const Point right_bottom{r.x + r.width, r.y + r.height};
  ink.wires.push_back({{r.x, r.y}, right_top});
  ink.wires.push_back({{r.x, r.y}, left_bottom});
  ink.wires.push_back({right_top, right_bottom});
  ink.wires.push_back({left_bottom, right_bottom});
}

void take_group(const Metrics& metrics, const Group& group, Taken& ink) {
  const bool printed = group.kind == "title-block" || group.kind == "notes";
  const bool wide = group.kind == "frame" || group.kind == "boundary";
  for (const Item& item : group.items) {
    if (const auto* text = std::get_if<Text>(&item)) {
      ink.words.push_back(ink_of(metrics, *text));
    } else if (const auto* use = std::get_if<SymbolUse>(&item)) {
      ink.symbols.push_back(bounds_of(metrics, *use));
    } else if (const auto* box = std::get_if<Box>(&item)) {
      if (group.kind == "boundary")
        take_edges(box->rect, ink);
      else if (!wide)
        ink.words.push_back(box->rect);
    } else if (const auto* line = std::get_if<Polyline>(&item); line != nullptr && !wide) {
      for (std::size_t i = 1; i < line->points.size(); ++i) {
        const Segment piece{line->points[i - 1], line->points[i]};
        if (printed || group.kind == "table")
          ink.words.push_back(around(piece, 0.3));
        else
          ink.wires.push_back(piece);
      }
    }
  }
}

Taken ink_on(const Sketch& sketch) {
  Taken ink;
  for (const Group& group : sketch.sheet.groups)
    take_group(sketch.metrics, group, ink);
  return ink;
}

Rect joined(const Rect& a, const Rect& b) {
  const double left = std::min(a.x, b.x);
  const double top = std::min(a.y, b.y);
  return {left, top, std::max(a.x + a.width, b.x + b.width) - left,
          std::max(a.y + a.height, b.y + b.height) - top};
}

// What a leader may point at: the symbol of the element, else its line, else its words.
std::optional<Rect> body_of(const Sketch& sketch, const std::string& element) {
  std::optional<Rect> symbol;
  std::optional<Rect> line;
  std::optional<Rect> words;
  const auto add = [](std::optional<Rect>& to, const Rect& rect) {
    to = to ? joined(*to, rect) : rect;
  };
  for (const Group& group : sketch.sheet.groups) {
    if (group.id != element || group.kind == "reference") continue;
    for (const Item& item : group.items) {
      if (const auto* use = std::get_if<SymbolUse>(&item)) {
        if (!use->symbol.starts_with("conductors-")) add(symbol, bounds_of(sketch.metrics, *use));
      } else if (const auto* polyline = std::get_if<Polyline>(&item)) {
        if (polyline->points.size() > 1)
          add(line, around({polyline->points.front(), polyline->points.back()}, 0.0));
      } else if (const auto* box = std::get_if<Box>(&item)) {
        add(line, box->rect);
      } else if (const auto* text = std::get_if<Text>(&item)) {
        add(words, ink_of(sketch.metrics, *text));
      }
    }
  }
  return symbol ? symbol : line ? line : words;
}

/// A place for the balloons of one element.
struct BalloonSpot {
  Rect room;
  Segment leader;
  double cost = 0.0;
};

Point nearest_in(const Rect& r, Point p) {
  return {std::clamp(p.x, r.x, r.x + r.width), std::clamp(p.y, r.y, r.y + r.height)};
}

// The middle part of a body: what stands there belongs to nothing else, as a corner or a port may.
Rect core_of(const Rect& body) {
  constexpr double share = 0.3;
  return {body.x + body.width * share, body.y + body.height * share,
          body.width * (1.0 - 2.0 * share), body.height * (1.0 - 2.0 * share)};
}

// From the rim of the nearest balloon into the body.
Segment leader_to(const Rect& room, const Rect& body) {
  const double radius = diameter / 2.0;
  const Point aim = nearest_in(core_of(body), middle_of(room));
  const Rect centres{room.x + radius, room.y + radius, room.width - diameter,
                     room.height - diameter};
  const Point from = nearest_in(centres, aim);
  const double length = std::hypot(aim.x - from.x, aim.y - from.y);
  if (length <= radius) return {from, from};
  return {
      {from.x + (aim.x - from.x) * radius / length, from.y + (aim.y - from.y) * radius / length},
      aim};
}

// A leader that lies level or upright reads as a wire.
bool looks_like_wire(const Segment& leader) {
  constexpr double least_slope = 0.2;
  const double dx = std::abs(leader.a.x - leader.b.x);
  const double dy = std::abs(leader.a.y - leader.b.y);
  return std::min(dx, dy) < least_slope * std::max(dx, dy);
}

double room_cost(const Taken& ink, const Rect& room) {
  double cost = 0.0;
  const Rect clear = grown(room, 0.8);
  for (const Rect& each : ink.words)
    if (overlap(clear, each)) cost += 1e5;
  for (const Rect& each : ink.symbols)
    if (overlap(clear, each)) cost += 1e5;
  for (const Rect& each : ink.balloons)
    if (overlap(clear, each)) cost += 1e6;
  for (const Segment& each : ink.wires)
    if (passes(each, clear)) cost += 60.0;
  for (const Segment& each : ink.leaders)
    if (passes(each, clear)) cost += 2000.0;
  return cost;
}

double leader_cost(const Taken& ink, const Segment& leader, const Rect& body) {
  double cost = std::hypot(leader.a.x - leader.b.x, leader.a.y - leader.b.y);
  if (looks_like_wire(leader)) cost += 12.0;
  for (const Rect& each : ink.words)
    if (passes(leader, grown(each, 0.3))) cost += 300.0;
  for (const Rect& each : ink.symbols)
    if (!overlap(each, body) && passes(leader, each)) cost += 400.0;
  for (const Segment& each : ink.wires)
    if (cross(leader, each)) cost += 8.0;
  for (const Rect& each : ink.balloons)
    if (passes(leader, grown(each, 0.5))) cost += 3000.0;
  for (const Segment& each : ink.leaders)
    if (cross(leader, each)) cost += 2000.0;
  return cost;
}

// Only what is near enough to matter.
Taken near(const Taken& ink, const Rect& window) {
  Taken part;
  const auto take = [&](const std::vector<Rect>& from, std::vector<Rect>& to) {
    std::copy_if(from.begin(), from.end(), std::back_inserter(to),
                 [&](const Rect& each) { return overlap(each, window); });
  };
  take(ink.words, part.words);
  take(ink.symbols, part.symbols);
  take(ink.balloons, part.balloons);
  std::copy_if(ink.wires.begin(), ink.wires.end(), std::back_inserter(part.wires),
               [&](const Segment& each) { return passes(each, window); });
  part.leaders = ink.leaders;
  return part;
}

BalloonSpot best_spot(const Sketch& sketch, const Taken& all, const Rect& body, double width,
                      double height) {
  constexpr double reach = 120.0;
  constexpr double step = 2.5;
  constexpr int angles = 24;
  const Taken ink = near(all, grown(body, reach + width));
  const Rect frame = grown(frame_of(sketch.sheet), -1.0);
  BalloonSpot best{.room = {}, .leader = {}, .cost = 1e12};
  for (double away = step; away <= reach; away += step) {
    if (away > best.cost) break;
    for (int i = 0; i < angles; ++i) {
      // Up and to the right first, then round by turns to both sides.
      const int steps = (i + 1) / 2;
      const double turn = (i % 2 == 0 ? 2.0 : -2.0) * steps * std::numbers::pi / angles;
      const double angle = -std::numbers::pi / 4.0 + turn;
      const Point at{
          middle_of(body).x + std::cos(angle) * (body.width / 2.0 + width / 2.0 + away),
          middle_of(body).y + std::sin(angle) * (body.height / 2.0 + height / 2.0 + away)};
      const Rect room{at.x - width / 2.0, at.y - height / 2.0, width, height};
      const bool inside = room.x >= frame.x && room.y >= frame.y &&
                          room.x + room.width <= frame.x + frame.width &&
                          room.y + room.height <= frame.y + frame.height;
      if (!inside) continue;
      const Segment leader = leader_to(room, body);
      const double cost = room_cost(ink, room) + leader_cost(ink, leader, body);
      if (cost < best.cost) best = {room, leader, cost};
    }
  }
  return best;
}

void draw_balloon(const Flag& flag, std::size_t number, Point centre, Sketch& sketch) {
  Group& group = sketch.group("flag", fmt::format("flag {}", number),
                              fmt::format("{}: {}", number, flag.finding), flag.mend);
  group.data = {{"element", flag.element}, {"rule", flag.rule}, {"severity", flag.severity}};
  const double radius = diameter / 2.0;
  group.items.emplace_back(Box{.rect = {centre.x - radius, centre.y - radius, diameter, diameter},
                               .stroke = Stroke::balloon,
                               .fill = Ink::white});
  const std::string words = fmt::format("{}", number);
  const double height =
      sketch.metrics.text_width(words, number_height, Weight::bold) < diameter - 1.5 ? number_height
                                                                                     : text_height;
  group.items.emplace_back(Text{.at = {centre.x, centre.y + height / 2.0},
                                .text = words,
                                .height = height,
                                .weight = Weight::bold,
                                .anchor = Anchor::middle});
}

void draw_at(const std::vector<Flag>& flags, const Balloons& balloons, const BalloonSpot& spot,
             Sketch& sketch) {
  Group& leader = sketch.group("leader", "", "leader to " + balloons.element, "");
  leader.data = {{"element", balloons.element}};
  leader.items.emplace_back(Polyline{{spot.leader.a, spot.leader.b}, Stroke::leader});
  const double radius = diameter / 2.0;
  for (std::size_t i = 0; i < balloons.numbers.size(); ++i) {
    const std::size_t row = i / most_in_a_row;
    const std::size_t column = i % most_in_a_row;
    const Point centre{spot.room.x + radius + diameter * static_cast<double>(column),
                       spot.room.y + radius + diameter * static_cast<double>(row)};
    draw_balloon(flags[balloons.numbers[i] - 1], balloons.numbers[i], centre, sketch);
  }
}

}  // namespace

std::vector<Balloons> draw_balloons(const std::vector<Flag>& flags,
                                    const std::vector<Balloons>& balloons, Sketch& sketch) {
  std::vector<Balloons> left;
  Taken ink = ink_on(sketch);
  for (const Balloons& each : balloons) {
    const std::optional<Rect> body = body_of(sketch, each.element);
    if (!body) {
      left.push_back(each);
      continue;
    }
    const std::size_t count = each.numbers.size();
    const std::size_t rows = (count + most_in_a_row - 1) / most_in_a_row;
    const BalloonSpot spot = best_spot(
        sketch, ink, *body, diameter * static_cast<double>(std::min(count, most_in_a_row)),
        diameter * static_cast<double>(rows));
    draw_at(flags, each, spot, sketch);
    ink.balloons.push_back(spot.room);
    ink.leaders.push_back(spot.leader);
  }
  return left;
}

}  // namespace linewright::diagram
