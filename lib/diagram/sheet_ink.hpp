// What stands on a drawn sheet, for whatever has to be added to it without covering anything.
#pragma once

#include <vector>

#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// A straight piece of a line.
struct Segment {
  Point a;
  Point b;
};

/// What is on the sheet already.
struct SheetInk {
  std::vector<Rect> words;    ///< texts and what is written in
  std::vector<Rect> symbols;  ///< of elements
  std::vector<Segment> wires;
  std::vector<Rect> balloons;
  std::vector<Segment> leaders;
};

SheetInk ink_on(const Sketch& sketch);

/// The bounds of a symbol where it stands.
Rect bounds_of(const Metrics& metrics, const SymbolUse& use);

/// The bounds of a piece of line with a margin round it.
Rect around(const Segment& s, double margin);
Rect grown(const Rect& r, double by);
Rect joined(const Rect& a, const Rect& b);

/// Whether a straight line passes a rectangle.
bool passes(const Segment& s, const Rect& r);

}  // namespace linewright::diagram
