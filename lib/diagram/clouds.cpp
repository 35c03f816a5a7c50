#include "diagram/clouds.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include <fmt/core.h>

#include "diagram/paper.hpp"
#include "diagram/sheet_ink.hpp"

namespace linewright::diagram {
namespace {

constexpr double bulge = 1.0;      ///< of the outline out of a cloud's body, mm
constexpr double clearance = 0.5;  ///< from what is inside to the body's edge
constexpr double one_piece = 9.0;  ///< what is nearer than that has one cloud
constexpr double mark_width = 6.5;
constexpr double mark_height = 5.6;

// Symbols and words of a group; its lines only where it has nothing else.
std::vector<Rect> parts_of(const Metrics& metrics, const Group& group) {
  std::vector<Rect> parts;
  std::vector<Rect> lines;
  for (const Item& item : group.items) {
    if (const auto* use = std::get_if<SymbolUse>(&item)) {
      parts.push_back(bounds_of(metrics, *use));
    } else if (const auto* text = std::get_if<Text>(&item)) {
      parts.push_back(ink_of(metrics, *text));
    } else if (const auto* box = std::get_if<Box>(&item)) {
      lines.push_back(box->rect);
    } else if (const auto* line = std::get_if<Polyline>(&item)) {
      for (std::size_t i = 1; i < line->points.size(); ++i)
        lines.push_back(around({line->points[i - 1], line->points[i]}, 0.0));
    }
  }
  return parts.empty() ? lines : parts;
}

// All lettering; lines of tables may be crossed.
std::vector<Rect> lettering_on(const Sketch& sketch) {
  std::vector<Rect> lettering;
  for (const Group& group : sketch.sheet.groups)
    for (const Item& item : group.items)
      if (const auto* text = std::get_if<Text>(&item))
        lettering.push_back(ink_of(sketch.metrics, *text));
  return lettering;
}

bool is_drawn_thing(const Group& group) {
  return group.kind != "reference" && group.kind != "title-block" && group.kind != "notes";
}

void add_number(std::vector<std::size_t>& to, std::size_t number) {
  const auto at = std::ranges::lower_bound(to, number);
  if (at == to.end() || *at != number) to.insert(at, number);
}

// Joins clouds as long as two of them meet.
void join_meeting(std::vector<Cloud>& clouds, double apart) {
  for (std::size_t i = 0; i < clouds.size(); ++i) {
    for (std::size_t k = i + 1; k < clouds.size();) {
      if (!overlap(grown(clouds[i].body, apart / 2.0), grown(clouds[k].body, apart / 2.0))) {
        ++k;
        continue;
      }
      clouds[i].body = joined(clouds[i].body, clouds[k].body);
      for (const std::size_t number : clouds[k].numbers)
        add_number(clouds[i].numbers, number);
      clouds.erase(clouds.begin() + static_cast<std::ptrdiff_t>(k));
      k = i + 1;
    }
  }
}

bool contains(const Rect& outer, const Rect& inner) {
  return inner.x >= outer.x && inner.y >= outer.y &&
         inner.x + inner.width <= outer.x + outer.width &&
         inner.y + inner.height <= outer.y + outer.height;
}

// Takes in words that the outline would cut; whether there were any.
bool take_in(const std::vector<Rect>& words, Cloud& cloud) {
  bool any = false;
  for (const Rect& each : words) {
    if (!overlap(grown(cloud.body, bulge + 0.2), each) || contains(cloud.body, each)) continue;
    cloud.body = joined(cloud.body, grown(each, 0.5));
    any = true;
  }
  return any;
}

void push_scallops(std::vector<Point>& points, Point from, Point to) {
  constexpr double chord = 3.0;
  constexpr int pieces = 6;
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  const int count = std::max(1, static_cast<int>(std::lround(length / chord)));
  const Point along{(to.x - from.x) / length, (to.y - from.y) / length};
  const Point out{along.y, -along.x};  // the outline goes round clockwise, y points down
  const double step = length / count;
  for (int i = 0; i < count; ++i) {
    for (int p = 0; p < pieces; ++p) {
      const double angle = std::numbers::pi * p / pieces;
      const double t = step * (i + 0.5 - 0.5 * std::cos(angle));
      const double bulging = bulge * std::sin(angle);
      points.push_back(
          {from.x + along.x * t + out.x * bulging, from.y + along.y * t + out.y * bulging});
    }
  }
}

Polyline outline_of(const Rect& body) {
  Polyline outline{.points = {}, .stroke = Stroke::cloud, .closed = true};
  const Point a{body.x, body.y};
  const Point b{body.x + body.width, body.y};
  const Point c{body.x + body.width, body.y + body.height};
  const Point d{body.x, body.y + body.height};
  push_scallops(outline.points, a, b);
  push_scallops(outline.points, b, c);
  push_scallops(outline.points, c, d);
  push_scallops(outline.points, d, a);
  return outline;
}

double cost_of(const SheetInk& ink, const std::vector<Rect>& marks, const Rect& room) {
  double cost = 0.0;
  const auto add = [&](const std::vector<Rect>& rects, double each) {
    for (const Rect& rect : rects)
      if (overlap(room, rect)) cost += each;
  };
  add(ink.words, 1000.0);
  add(ink.symbols, 400.0);
  add(marks, 2000.0);
  for (const Segment& wire : ink.wires)
    if (passes(wire, room)) cost += 20.0;
  return cost;
}

// Round the cloud, right above first; farther away only where it would cover something.
Rect spot_for(const SheetInk& ink, const std::vector<Rect>& marks, const Rect& frame,
              const Rect& body, double width) {
  Rect best{body.x + body.width, body.y - mark_height, width, mark_height};
  double least = 1e9;
  for (double away = bulge + 0.5; away < 40.0; away += 2.5) {
    const Rect ring{body.x - away - width, body.y - away - mark_height,
                    body.width + 2 * away + width, body.height + 2 * away + mark_height};
    const auto look = [&](double x, double y) {
      const Rect room{x, y, width, mark_height};
      if (!contains(frame, room)) return;
      const double cost = cost_of(ink, marks, grown(room, 0.5)) + away;
      if (cost < least) {
        least = cost;
        best = room;
      }
    };
    for (double x = ring.x + ring.width; x >= ring.x; x -= 2.5) {
      look(x, ring.y);
      look(x, ring.y + ring.height);
    }
    for (double y = ring.y; y <= ring.y + ring.height; y += 2.5) {
      look(ring.x + ring.width, y);
      look(ring.x, y);
    }
    if (least <= away) break;
  }
  return best;
}

void draw_mark(const ChangeMark& change, std::size_t number, Point at, Sketch& sketch) {
  Group& group = sketch.group("change", fmt::format("change {}", number),
                              fmt::format("{}: {}", number, change.words), "");
  group.items.emplace_back(Polyline{.points = {{at.x, at.y + mark_height},
                                               {at.x + mark_width, at.y + mark_height},
                                               {at.x + mark_width / 2.0, at.y}},
                                    .stroke = Stroke::cloud,
                                    .closed = true,
                                    .fill = Ink::white});
  group.items.emplace_back(Text{.at = {at.x + mark_width / 2.0, at.y + mark_height - 0.7},
                                .text = fmt::format("{}", number),
                                .height = number < 100 ? text_height : 1.8,
                                .weight = Weight::bold,
                                .anchor = Anchor::middle});
}

}  // namespace

std::vector<Cloud> clouds_on(const Sketch& sketch, const std::vector<ChangeMark>& changes) {
  std::vector<Cloud> clouds;
  for (std::size_t c = 0; c < changes.size(); ++c) {
    for (const Group& group : sketch.sheet.groups) {
      if (group.id.empty() || !is_drawn_thing(group)) continue;
      if (std::ranges::count(changes[c].drawn_as, group.id) == 0) continue;
      std::vector<Cloud> pieces;
      for (const Rect& part : parts_of(sketch.metrics, group))
        pieces.push_back({grown(part, clearance), {c + 1}});
      join_meeting(pieces, one_piece);
      std::ranges::copy(pieces, std::back_inserter(clouds));
    }
  }
  const std::vector<Rect> words = lettering_on(sketch);
  constexpr int rounds = 12;
  for (int round = 0; round < rounds; ++round) {
    bool any = false;
    for (Cloud& cloud : clouds)
      any = take_in(words, cloud) || any;
    const std::size_t before = clouds.size();
    join_meeting(clouds, 2.0 * bulge + 1.0);
    if (!any && clouds.size() == before) break;
  }
  return clouds;
}

void draw_clouds(const std::vector<ChangeMark>& changes, const std::vector<Cloud>& clouds,
                 Sketch& sketch) {
  const SheetInk ink = ink_on(sketch);
  const Rect frame = grown(frame_of(sketch.sheet), -1.0);
  std::vector<Rect> marks;
  for (const Cloud& cloud : clouds)
    marks.push_back(grown(cloud.body, bulge));
  for (const Cloud& cloud : clouds) {
    Group& group = sketch.group("cloud", "", "what changed", "");
    group.items.emplace_back(outline_of(cloud.body));
    const auto count = static_cast<double>(cloud.numbers.size());
    const Rect spot = spot_for(ink, marks, frame, cloud.body, mark_width * count);
    marks.push_back(spot);
    double x = spot.x;
    for (const std::size_t number : cloud.numbers) {
      draw_mark(changes[number - 1], number, {x, spot.y}, sketch);
      x += mark_width;
    }
  }
}

}  // namespace linewright::diagram
