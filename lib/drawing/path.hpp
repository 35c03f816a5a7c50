// Outlines as straight lines and cubic curves: what every back end can draw.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "diagram/sheet.hpp"

namespace linewright::drawing {

using diagram::Point;
using diagram::Rect;

/// One step of an outline.
struct Segment {
  enum class Kind : std::uint8_t {
    move,   ///< begins a new part at points[0]
    line,   ///< straight to points[0]
    cubic,  ///< curve to points[2] with the control points [0] and [1]
    close,  ///< straight back to the beginning of the part
  };
  Kind kind = Kind::move;
  std::array<Point, 3> points{};

  friend bool operator==(const Segment&, const Segment&) = default;
};

/// An outline: each part begins with a move.
using Path = std::vector<Segment>;

Segment move_to(Point to);
Segment line_to(Point to);
Segment cubic_to(Point first_control, Point second_control, Point to);
Segment close_part();

/// A rectangle with corners of the given radius, closed.
Path rectangle(const Rect& rect, double corner_radius = 0.0);

/// An ellipse as four curves, closed.
Path ellipse(Point centre, double radius_x, double radius_y);

/// A chain of straight lines.
Path polyline(const std::vector<Point>& points, bool closed);

/// The elliptic arc of SVG path data as curves that continue from `from`; a straight line when a
/// radius is zero, nothing when both ends are the same.
struct Arc {
  Point from;
  Point to;
  double radius_x = 0.0;
  double radius_y = 0.0;
  double rotation_degrees = 0.0;
  bool large = false;
  bool clockwise = false;  ///< as seen on the sheet; the "sweep" flag
};
Path arc(const Arc& in);

/// The smallest rectangle round the outline itself, without the width of a pen; curves are sampled,
/// so it may be short by less than 0.02 mm on curves of symbol size. Empty at (0, 0) for no
/// outline.
Rect bounds(const Path& path);

/// The smallest rectangle round both; a rectangle without width and height counts as absent.
Rect unite(const Rect& first, const Rect& second);

/// Wider by `by` on all sides.
Rect grown(const Rect& rect, double by);

}  // namespace linewright::drawing
