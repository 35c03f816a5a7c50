// Ways through a picture: of a fault's current out and home, and of a hazard.
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using Hanging = PictureHub::Hanging;

/// Where pieces of the site are in the picture: a hub or a chain.
struct Where {
  bool hub = false;
  std::size_t index = none;
  friend bool operator==(const Where&, const Where&) = default;
};

/// A visit to a hub or chain with the pieces passed there.
struct Visit {
  Where where;
  std::vector<Piece> pieces;
};

std::optional<Where> find(const PicturePlan& what, const Piece& piece) {
  for (std::size_t h = 0; h < what.hubs.size(); ++h)
    if (std::ranges::count(what.hubs[h].covered, piece) > 0) return Where{true, h};
  for (std::size_t c = 0; c < what.plan.chains.size(); ++c)
    if (std::ranges::count(what.plan.chains[c].pieces, piece) > 0) return Where{false, c};
  for (std::size_t h = 0; h < what.plan.hubs.size(); ++h)
    for (const Attachment& attachment : what.plan.hubs[h].attachments)
      if (piece == Piece{Piece::Kind::element, attachment.element} ||
          piece == Piece{Piece::Kind::run, attachment.run})
        return Where{true, h};
  return std::nullopt;
}

std::vector<Visit> visits_of(const PicturePlan& what, const std::vector<Piece>& pieces) {
  std::vector<Visit> visits;
  for (const Piece& piece : pieces) {
    const auto where = find(what, piece);
    if (!where) continue;
    if (visits.empty() || !(visits.back().where == *where)) visits.push_back({*where, {}});
    visits.back().pieces.push_back(piece);
  }
  return visits;
}

class Tracer {
 public:
  Tracer(const PictureLayout& layout, const PictureSet& set) : layout_(layout), set_(set) {}

  std::vector<std::vector<Point>> run(const std::vector<Piece>& pieces) {
    const auto visits = visits_of(layout_.what, pieces);
    for (std::size_t i = 0; i < visits.size(); ++i) {
      const Visit* next = i + 1 < visits.size() ? &visits[i + 1] : nullptr;
      if (visits[i].where.hub)
        visit_hub(visits[i].where.index);
      else
        visit_chain(visits[i], next);
    }
    flush();
    return std::move(ways_);
  }

 private:
  const Chain& chain(std::size_t index) const { return layout_.what.plan.chains[index]; }

  bool touches(const Where& where, std::size_t hub) const {
    if (where.hub) return where.index == hub;
    return chain(where.index).upper == hub || chain(where.index).lower == hub;
  }

  void visit_hub(std::size_t hub) {
    if (hub == at_) return;
    flush();
    at_ = hub;
    const Hub& what = layout_.what.plan.hubs[hub];
    // The way comes up from earth at a source: it begins at the joint beside it.
    if (is_source(what) && !bonds_at(layout_.what.site, what).empty()) {
      const Point axis = bond_axis(layout_, hub, 0);
      way_.push_back({axis.x, axis.y + 5.0 / layout_.scale});
      way_.push_back(axis);
      way_.push_back({middle_of(layout_, hub).x, axis.y});
    }
  }

  void visit_chain(const Visit& visit, const Visit* next) {
    const Chain& what = chain(visit.where.index);
    std::size_t from = at_;
    if (at_ != what.upper && at_ != what.lower) {
      flush();
      const bool leads_up = next != nullptr && touches(next->where, what.upper);
      const bool leads_down = next != nullptr && touches(next->where, what.lower);
      from = leads_up && !leads_down ? what.lower : what.upper;
    }
    const std::size_t to = from == what.upper ? what.lower : what.upper;
    std::vector<Point> points = chain_drawing(layout_, set_, visit.where.index).way();
    if (from == what.lower) std::ranges::reverse(points);
    if (!way_.empty() || at_ == from) pass(from, points.front());
    const bool comes_back =
        next != nullptr && !touches(next->where, to) && touches(next->where, from);
    if (comes_back) return turn_round(visit, points, from);
    add(points);
    at_ = to;
    const Hanging end = layout_.what.hubs[to].hanging;
    if (end == Hanging::bond || end == Hanging::earth_terminal)
      way_.push_back({way_.back().x, way_.back().y + 3.5 / layout_.scale});
  }

  // Only a part of the line is passed, there and back: to the device drawn among the pieces.
  void turn_round(const Visit& visit, const std::vector<Point>& points, std::size_t from) {
    Point goal = points[points.size() / 2];
    for (const Stood& device : chain_drawing(layout_, set_, visit.where.index).devices)
      for (const Piece& piece : visit.pieces)
        if (piece == Piece{Piece::Kind::element, device.element})
          goal = {device.top.x, (device.top.y + device.bottom.y) / 2.0};
    add({points.front(), goal, points.front()});
    at_ = from;
  }

  // From where the way has come to, through a hub, to where the next line leaves it.
  void pass(std::size_t hub, Point to) {
    const Hub& what = layout_.what.plan.hubs[hub];
    if (way_.empty()) {
      if (is_source(what)) way_.push_back({to.x, middle_of(layout_, hub).y});
      return;
    }
    const Point from = way_.back();
    if (what.kind == HubKind::changeover) {
      const double x = hub_x(layout_.drawing(), hub);
      const double y = hub_y(layout_.drawing(), hub);
      const double side = (from.y < to.y ? from.x : to.x) < x ? -1.0 : 1.0;
      std::vector<Point> inside{{x + side * 5.0, y + 2.5},
                                {x + side * 2.5, y + 2.5},
                                {x + side * 2.5, y + 5.0},
                                {x, y + 10.0}};
      if (from.y > to.y) std::ranges::reverse(inside);
      add(inside);
    } else if (is_source(what)) {
      const double y = middle_of(layout_, hub).y;
      add({{from.x, y}, {to.x, y}});
    }
  }

  void add(const std::vector<Point>& points) {
    for (const Point& p : points)
      if (way_.empty() || std::abs(way_.back().x - p.x) + std::abs(way_.back().y - p.y) > 1e-6)
        way_.push_back(p);
  }

  void flush() {
    if (way_.size() > 1) ways_.push_back(way_);
    way_.clear();
    at_ = none;
  }

  const PictureLayout& layout_;
  const PictureSet& set_;
  std::vector<Point> way_;
  std::size_t at_ = none;
  std::vector<std::vector<Point>> ways_;
};

Point unit(Point a, Point b) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  return length < 1e-9 ? Point{0.0, 0.0} : Point{(b.x - a.x) / length, (b.y - a.y) / length};
}

// Corners of a way; what lies straight between two others is left out.
std::vector<Point> corners(const std::vector<Point>& way) {
  std::vector<Point> kept;
  for (std::size_t i = 0; i < way.size(); ++i) {
    if (i > 0 && i + 1 < way.size()) {
      const Point in = unit(kept.back(), way[i]);
      const Point out = unit(way[i], way[i + 1]);
      if (in.x * out.x + in.y * out.y > 1.0 - 1e-9) continue;
    }
    kept.push_back(way[i]);
  }
  return kept;
}

void arrow_at(Group& group, Point a, Point b) {
  const Point d = unit(a, b);
  const Point tip{(a.x + b.x) / 2.0 + d.x * 0.9, (a.y + b.y) / 2.0 + d.y * 0.9};
  const Point foot{tip.x - d.x * 1.8, tip.y - d.y * 1.8};
  group.items.emplace_back(Polyline{.points = {tip,
                                               {foot.x - d.y * 0.7, foot.y + d.x * 0.7},
                                               {foot.x + d.y * 0.7, foot.y - d.x * 0.7}},
                                    .stroke = Stroke::control,
                                    .closed = true,
                                    .fill = Ink::black});
}

bool inside_inverter(const Canvas& canvas, Point a, Point b) {
  const auto& hubs = canvas.layout.what.plan.hubs;
  for (std::size_t h = 0; h < hubs.size(); ++h) {
    if (hubs[h].kind != HubKind::inverter || hubs[h].element == none) continue;
    const Rect box = inverter_box(canvas, h);
    const Point middle{(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
    if (overlap(box, {middle.x - 1.0, middle.y - 1.0, 2.0, 2.0})) return true;
  }
  return false;
}

void draw_way(const Canvas& canvas, const std::vector<Piece>& pieces, Stroke stroke,
              const std::string& title) {
  constexpr double apart = 1.15;
  constexpr double least_for_arrow = 6.0;
  Group& group = picture_group(canvas, "picture-fault", "", title, "");
  for (const auto& way : traced(canvas.layout, canvas.set, pieces)) {
    std::vector<Point> points;
    for (const Point& p : way)
      points.push_back(canvas.at(p));
    const std::vector<Point> line = beside(points, apart);
    group.items.emplace_back(Polyline{.points = line, .stroke = stroke});
    for (std::size_t i = 1; i < line.size(); ++i)
      if (std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y) > least_for_arrow &&
          !inside_inverter(canvas, line[i - 1], line[i]))
        arrow_at(group, line[i - 1], line[i]);
  }
}

}  // namespace

std::vector<std::vector<Point>> traced(const PictureLayout& layout, const PictureSet& set,
                                       const std::vector<Piece>& pieces) {
  return Tracer(layout, set).run(pieces);
}

// Each corner of the new line is where the lines beside its two neighbours meet; where the way
// turns back on itself, the new one goes round its end.
std::vector<Point> beside(const std::vector<Point>& given, double distance) {
  const std::vector<Point> way = corners(given);
  std::vector<Point> line;
  for (std::size_t i = 0; i < way.size(); ++i) {
    const Point in = i > 0 ? unit(way[i - 1], way[i]) : unit(way[0], way[1]);
    const Point out = i + 1 < way.size() ? unit(way[i], way[i + 1]) : in;
    const Point a{-in.y * distance, in.x * distance};
    const Point b{-out.y * distance, out.x * distance};
    const double turn = 1.0 + in.x * out.x + in.y * out.y;
    if (turn < 0.05) {
      line.push_back({way[i].x + a.x, way[i].y + a.y});
      line.push_back({way[i].x + b.x, way[i].y + b.y});
      continue;
    }
    line.push_back({way[i].x + (a.x + b.x) / turn, way[i].y + (a.y + b.y) / turn});
  }
  return line;
}

void draw_picture_loop(const Canvas& canvas) {
  if (!canvas.picture.fault_out.empty())
    draw_way(canvas, canvas.picture.fault_out, Stroke::fault_out, "fault current out");
  if (!canvas.picture.fault_home.empty())
    draw_way(canvas, canvas.picture.fault_home, Stroke::fault_home, "fault current home");
}

void draw_picture_halo(const Canvas& canvas) {
  if (canvas.picture.emphasised.empty()) return;
  Group& group = picture_group(canvas, "picture-hazard", "", "the way of the hazard", "");
  for (const auto& way : traced(canvas.layout, canvas.set, canvas.picture.emphasised)) {
    std::vector<Point> points;
    for (const Point& p : way)
      points.push_back(canvas.at(p));
    group.items.emplace_back(Polyline{.points = points, .stroke = Stroke::halo});
  }
}

}  // namespace linewright::diagram
