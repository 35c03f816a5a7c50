// The finished geometry of a plan on one sheet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diagram/arrange.hpp"
#include "diagram/order.hpp"
#include "units/result.hpp"

namespace linewright::diagram {

/// Where everything of a plan stands, in mm on the sheet.
struct Placed {
  Arrangement arrangement;
  Ordered ordered;
  std::vector<double> row_top;    ///< by row
  std::vector<double> group_x;    ///< by group
  std::vector<double> chain_x;    ///< by chain
  std::vector<double> bar_left;   ///< by hub
  std::vector<double> bar_right;  ///< by hub
  std::vector<Rect> frames;       ///< by frame
  double table_top = 0.0;
  double table_bottom = 0.0;
  Area area;

  double row_bottom(std::size_t row) const { return row_top[row] + arrangement.row_heights[row]; }
};

/// Why a plan has no place on a sheet.
struct Misfit {
  double height = 0.0;  ///< mm that are missing
  double width = 0.0;
  int faults = 0;                  ///< lines that can not keep apart
  std::vector<std::size_t> order;  ///< the best one found, by group: a start for other room
};

/// Room on the sheet, mm.
struct Size {
  double width = 0.0;
  double height = 0.0;
};

/// The least room that a plan takes by itself, and how its circuits take part in it.
struct Need {
  Size least;
  std::size_t circuits = 0;  ///< columns of its table
};

Need need_of(const site::Site& site, const Metrics& metrics, const Plan& plan);

/// The height of the same.
double least_height(const site::Site& site, const Metrics& metrics, const Plan& plan);

/// A place for everything, or what is missing for it. Spreads over the area where there is room.
/// The search for an order begins with `start`, if it is one.
/// Postcondition: frames are disjoint, every column keeps its distance in every row.
tl::expected<Placed, Misfit> place(const site::Site& site, const Metrics& metrics, const Plan& plan,
                                   const Measures& measures, const Area& area,
                                   const std::vector<std::size_t>& start = {});

}  // namespace linewright::diagram
