#include "drawing/path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linewright::drawing {
namespace {

// Control points at this share of the radius draw a quarter circle to 0.03 % of the radius.
constexpr double quarter_circle = 0.5522847498307936;

Point between(Point a, Point b, double t) {
  return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

Point on_cubic(Point from, const std::array<Point, 3>& points, double t) {
  const Point a = between(from, points[0], t);
  const Point b = between(points[0], points[1], t);
  const Point c = between(points[1], points[2], t);
  return between(between(a, b, t), between(b, c, t), t);
}

// The arc in the frame where the ellipse is the unit circle (SVG 1.1, appendix F.6.5).
struct UnitArc {
  double radius_x = 0.0;
  double radius_y = 0.0;
  Point centre;
  double start = 0.0;
  double extent = 0.0;
};

UnitArc to_unit_arc(const Arc& in, double cosine, double sine) {
  const double dx = (in.from.x - in.to.x) / 2.0;
  const double dy = (in.from.y - in.to.y) / 2.0;
  const double x = cosine * dx + sine * dy;
  const double y = -sine * dx + cosine * dy;
  double rx = std::abs(in.radius_x);
  double ry = std::abs(in.radius_y);
  const double excess = (x * x) / (rx * rx) + (y * y) / (ry * ry);
  if (excess > 1.0) {  // radii too small for the distance grow until they just reach
    rx *= std::sqrt(excess);
    ry *= std::sqrt(excess);
  }
  const double down = rx * rx * y * y + ry * ry * x * x;
  double root = std::sqrt(std::max(0.0, (rx * rx * ry * ry - down) / down));
  if (in.large == in.clockwise) root = -root;
  const double cx = root * rx * y / ry;
  const double cy = -root * ry * x / rx;
  UnitArc out;
  out.radius_x = rx;
  out.radius_y = ry;
  out.centre = {cosine * cx - sine * cy + (in.from.x + in.to.x) / 2.0,
                sine * cx + cosine * cy + (in.from.y + in.to.y) / 2.0};
  out.start = std::atan2((y - cy) / ry, (x - cx) / rx);
  out.extent = std::atan2((-y - cy) / ry, (-x - cx) / rx) - out.start;
  if (in.clockwise && out.extent < 0.0) out.extent += 2.0 * std::numbers::pi;
  if (!in.clockwise && out.extent > 0.0) out.extent -= 2.0 * std::numbers::pi;
  return out;
}

void widen(Rect& box, bool& any, Point p) {
  if (!any) {
    box = {p.x, p.y, 0.0, 0.0};
    any = true;
    return;
  }
  const double right = std::max(box.x + box.width, p.x);
  const double bottom = std::max(box.y + box.height, p.y);
  box.x = std::min(box.x, p.x);
  box.y = std::min(box.y, p.y);
  box.width = right - box.x;
  box.height = bottom - box.y;
}

}  // namespace

Segment move_to(Point to) {
  return {Segment::Kind::move, {to}};
}
Segment line_to(Point to) {
  return {Segment::Kind::line, {to}};
}
Segment cubic_to(Point first_control, Point second_control, Point to) {
  return {Segment::Kind::cubic, {first_control, second_control, to}};
}
Segment close_part() {
  return {Segment::Kind::close, {}};
}

Path rectangle(const Rect& rect, double corner_radius) {
  const double left = rect.x;
  const double top = rect.y;
  const double right = rect.x + rect.width;
  const double bottom = rect.y + rect.height;
  const double r = std::min({corner_radius, rect.width / 2.0, rect.height / 2.0});
  if (!(r > 0.0))
    return polyline({{left, top}, {right, top}, {right, bottom}, {left, bottom}}, true);
  const double k = r * (1.0 - quarter_circle);
  return {move_to({left + r, top}),
          line_to({right - r, top}),
          cubic_to({right - k, top}, {right, top + k}, {right, top + r}),
          line_to({right, bottom - r}),
          cubic_to({right, bottom - k}, {right - k, bottom}, {right - r, bottom}),
          line_to({left + r, bottom}),
          cubic_to({left + k, bottom}, {left, bottom - k}, {left, bottom - r}),
          line_to({left, top + r}),
          cubic_to({left, top + k}, {left + k, top}, {left + r, top}),
          close_part()};
}

Path ellipse(Point centre, double radius_x, double radius_y) {
  const auto [x, y] = centre;
  const double kx = radius_x * quarter_circle;
  const double ky = radius_y * quarter_circle;
  return {move_to({x + radius_x, y}),
          cubic_to({x + radius_x, y + ky}, {x + kx, y + radius_y}, {x, y + radius_y}),
          cubic_to({x - kx, y + radius_y}, {x - radius_x, y + ky}, {x - radius_x, y}),
          cubic_to({x - radius_x, y - ky}, {x - kx, y - radius_y}, {x, y - radius_y}),
          cubic_to({x + kx, y - radius_y}, {x + radius_x, y - ky}, {x + radius_x, y}),
          close_part()};
}

Path polyline(const std::vector<Point>& points, bool closed) {
  Path out;
  for (const Point& p : points)
    out.push_back(out.empty() ? move_to(p) : line_to(p));
  if (closed && !out.empty()) out.push_back(close_part());
  return out;
}

Path arc(const Arc& in) {
  if (in.from == in.to) return {};
  if (in.radius_x == 0.0 || in.radius_y == 0.0) return {line_to(in.to)};
  const double turn = in.rotation_degrees * std::numbers::pi / 180.0;
  const double cosine = std::cos(turn);
  const double sine = std::sin(turn);
  const UnitArc unit = to_unit_arc(in, cosine, sine);
  const auto place = [&](double x, double y) {
    const double px = unit.radius_x * x;
    const double py = unit.radius_y * y;
    return Point{unit.centre.x + cosine * px - sine * py, unit.centre.y + sine * px + cosine * py};
  };
  const int parts = std::max(
      1, static_cast<int>(std::ceil(std::abs(unit.extent) / (std::numbers::pi / 2.0) - 1e-9)));
  const double step = unit.extent / parts;
  const double k = 4.0 / 3.0 * std::tan(step / 4.0);
  Path out;
  for (int i = 0; i < parts; ++i) {
    const double a = unit.start + step * i;
    const double b = a + step;
    const Point end = i + 1 == parts ? in.to : place(std::cos(b), std::sin(b));
    out.push_back(cubic_to(place(std::cos(a) - k * std::sin(a), std::sin(a) + k * std::cos(a)),
                           place(std::cos(b) + k * std::sin(b), std::sin(b) - k * std::cos(b)),
                           end));
  }
  return out;
}

Rect bounds(const Path& path) {
  constexpr int samples = 24;
  Rect box;
  bool any = false;
  Point current;
  for (const Segment& segment : path) {
    switch (segment.kind) {
      case Segment::Kind::move:
      case Segment::Kind::line:
        current = segment.points[0];
        widen(box, any, current);
        break;
      case Segment::Kind::cubic:
        for (int i = 1; i <= samples; ++i) {
          widen(box, any, on_cubic(current, segment.points, static_cast<double>(i) / samples));
        }
        current = segment.points[2];
        break;
      case Segment::Kind::close:
        break;
    }
  }
  return box;
}

Rect unite(const Rect& first, const Rect& second) {
  if (first.width == 0.0 && first.height == 0.0) return second;
  if (second.width == 0.0 && second.height == 0.0) return first;
  const double x = std::min(first.x, second.x);
  const double y = std::min(first.y, second.y);
  return {x, y, std::max(first.x + first.width, second.x + second.width) - x,
          std::max(first.y + first.height, second.y + second.height) - y};
}

Rect grown(const Rect& rect, double by) {
  return {rect.x - by, rect.y - by, rect.width + 2.0 * by, rect.height + 2.0 * by};
}

}  // namespace linewright::drawing
