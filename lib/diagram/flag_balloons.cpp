// Balloons are placed by search: every place in a circle round the element is weighed by what
// balloon and leader cover there, how far it is, and whether the leader could be taken for a wire.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/core.h>

#include "diagram/flag_parts.hpp"
#include "diagram/paper.hpp"
#include "diagram/sheet_ink.hpp"

namespace linewright::diagram {
namespace {

constexpr double diameter = 7.0;
constexpr double number_height = 3.5;
constexpr std::size_t most_in_a_row = 5;

Point middle_of(const Rect& r) {
  return {r.x + r.width / 2.0, r.y + r.height / 2.0};
}

double side(const Segment& s, Point p) {
  return (s.b.x - s.a.x) * (p.y - s.a.y) - (s.b.y - s.a.y) * (p.x - s.a.x);
}

bool cross(const Segment& s, const Segment& t) {
  return side(s, t.a) * side(s, t.b) < 0.0 && side(t, s.a) * side(t, s.b) < 0.0;
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

double room_cost(const SheetInk& ink, const Rect& room) {
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

double leader_cost(const SheetInk& ink, const Segment& leader, const Rect& body) {
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
SheetInk near(const SheetInk& ink, const Rect& window) {
  SheetInk part;
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

BalloonSpot best_spot(const Sketch& sketch, const SheetInk& all, const Rect& body, double width,
                      double height) {
  constexpr double reach = 120.0;
  constexpr double step = 2.5;
  constexpr int angles = 24;
  const SheetInk ink = near(all, grown(body, reach + width));
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
  SheetInk ink = ink_on(sketch);
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
