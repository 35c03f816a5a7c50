// Draws a placed plan on a sheet.
#pragma once

#include <optional>

#include "diagram/place.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// A plan with its place, to be drawn.
struct Drawing {
  const site::Site& site;
  const Plan& plan;
  const Measures& measures;
  const Placed& placed;
};

/// The plans of one sheet: frames first, then wires with what stands in them, sources, bars,
/// tables; at last interlocks and the names that take what room is left.
void draw(const std::vector<Drawing>& drawings, Sketch& sketch);

// The parts of it, one file each.
void draw_boundaries(const Drawing& drawing, Sketch& sketch);
void draw_chains(const Drawing& drawing, Sketch& sketch);
void draw_sources(const Drawing& drawing, Sketch& sketch);
void draw_bars(const Drawing& drawing, Sketch& sketch);
void draw_ends(const Drawing& drawing, Sketch& sketch);
void draw_tables(const Drawing& drawing, Sketch& sketch);
void draw_interlocks(const site::Site& site, Sketch& sketch);
void name_bars(const Drawing& drawing, Sketch& sketch);
void name_boundaries(const Drawing& drawing, Sketch& sketch);

/// Where the name of a bar has room, or nothing.
std::optional<Point> bar_name_spot(const Drawing& drawing, const Sketch& sketch, std::size_t hub);

/// A piece of a chain with the heights it has on the sheet; runs are as high as they are told.
struct Stand {
  Piece piece;
  double top;
  double bottom;
};

/// The pieces of a chain from its top; runs that are not stacked have no height.
std::vector<Stand> stands_of(const Drawing& drawing, const Metrics& metrics, std::size_t chain);

/// x of the throw of the changeover that a chain leads to.
double throw_x(const Drawing& drawing, std::size_t chain);

/// A run between two heights of its column, with its strokes where it has a cable; the group
/// carries designation and ends.
Group& draw_run(const Drawing& drawing, Sketch& sketch, std::size_t run, std::vector<Point> way);

/// One of the two ends of a reference.
enum class End { own, other };

/// Id of the group at an end of a reference.
std::string reference_id(const Hub& hub, End end);

/// The group of a reference, still without items.
Group& reference_group(Sketch& sketch, const Hub& hub);

/// The group of an element, still without items.
Group& element_group(const Drawing& drawing, Sketch& sketch, std::size_t element);

/// Where a chain leaves its upper hub and where it lands on its lower one.
double chain_top(const Drawing& drawing, const Metrics& metrics, std::size_t chain);
double chain_bottom(const Drawing& drawing, std::size_t chain);

/// Height of a bar or joint, or of the throws of a changeover.
double hub_y(const Drawing& drawing, std::size_t hub);

/// The changeover's throw on the left side of its symbol, by port name.
std::string left_throw(const Drawing& drawing, std::size_t hub);

/// x of the axis of a source or changeover.
double hub_x(const Drawing& drawing, std::size_t hub);

/// Where the sources of a sheet have their symbol's origin.
Point source_origin(const Drawing& drawing, std::size_t hub);

}  // namespace linewright::diagram
