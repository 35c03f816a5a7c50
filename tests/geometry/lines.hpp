// The straight lines of a sheet, and how they lie to each other.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "geometry/browser.hpp"

namespace linewright::tests::geometry {

constexpr double touching = 0.06;  ///< mm that two points may be apart and still be one

/// One straight piece of a drawn path.
struct Line {
  Spot a;
  Spot b;
  std::size_t item = 0;  ///< of Sheet::items
  std::size_t group = 0;
  bool wire = false;  ///< a run or a joint between runs
  bool bar = false;   ///< a thick line that wires end on
};

/// A connection point of a symbol that was drawn.
struct PortSpot {
  std::string name;
  Spot at;
  std::size_t item = 0;
};

std::vector<Line> lines_of(const Sheet& sheet);
std::vector<PortSpot> ports_of(const Sheet& sheet);

bool same(Spot a, Spot b);
/// Whether a point lies on the line, its ends included.
bool on(const Line& line, Spot point);
/// On the line, but at neither end.
bool within(const Line& line, Spot point);
/// Whether some of the line lies inside the box.
bool enters(const Line& line, const Box& box);
Box shrunk(const Box& box, double by);
bool overlap(const Box& a, const Box& b);

}  // namespace linewright::tests::geometry
