// A sheet under way: what is drawn so far, and the room it takes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "diagram/measure.hpp"
#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"

namespace linewright::diagram {

/// Whether two rectangles share more than an edge.
bool overlap(const Rect& a, const Rect& b);

/// The ink of one line of text.
Rect ink_of(const Metrics& metrics, const Text& text);

/// A place for a label to try: its anchor point and how it is aligned.
struct Spot {
  Point at;
  Anchor anchor = Anchor::start;
};

/// A sheet with the rectangles that later labels must keep clear of.
struct Sketch {
  const Metrics& metrics;
  Sheet& sheet;
  std::vector<Rect> taken;
  std::vector<std::string> symbols;  ///< those used, in the order of their first use

  /// Adds a group and returns it; it stays valid until the next call.
  Group& group(std::string kind, std::string id, std::string title, std::string description);

  void symbol(Group& into, const std::string& name, Point at, int quarter_turns = 0);
  void line(Group& into, std::vector<Point> points, Stroke stroke);
  void text(Group& into, Text text);
  void dot(Group& into, Point at);

  /// Lines of text below each other, the first baseline at `at`; the first bold if it is a
  /// designation.
  void label(Group& into, Point at, const Label& label, Anchor anchor = Anchor::start);
  void grey_lines(Group& into, Point at, const std::vector<std::string>& lines);

  bool is_free(const Rect& rect) const;
};

/// The frames of assemblies as thin rectangles, which words keep clear of.
std::vector<Rect> frame_lines(const Sheet& sheet);

}  // namespace linewright::diagram
