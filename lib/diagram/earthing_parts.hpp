// The earthing tree measured and cut into parts that fit the paper.
#pragma once

#include <string>
#include <vector>

#include "diagram/earthing_tree.hpp"
#include "diagram/paper.hpp"
#include "diagram/sheet.hpp"

namespace linewright::diagram {

/// What the parts of the earthing are measured with, and the sheets that they refer to.
struct EarthingCanvas {
  const site::Site& site;
  const Metrics& metrics;
  const std::vector<const Sheet*>& drawn;
  double air = 0.0;   ///< mm that are left free beside each column
  double drop = 0.0;  ///< mm that each column is longer
};

/// The part of the drawing a reference leads to.
struct EarthingReference {
  std::string words;   ///< "sheet 1, C4"
  std::string target;  ///< of the link
};

/// One line beside a column.
struct EarthingLine {
  Text text;
  std::string target;  ///< of its link, or empty
};

/// A part of the tree with the room it takes.
struct EarthingPart {
  EarthNode root;
  double width = 0.0;
  double height = 0.0;
};

namespace earthing {

inline constexpr double half_box = 6.0;     ///< half the width of a box for equipment
inline constexpr double words_gap = 1.5;    ///< from a column to its words
inline constexpr double above_words = 5.5;  ///< from a bar to the first baseline below it
inline constexpr double head = 8.0;         ///< from the top of a part to its first bar

/// The lines beside a column, from its top.
std::vector<EarthingLine> lines_of(const EarthingCanvas& canvas, const EarthNode& node);

/// What stands above the first bar of a part, behind its designation.
std::string heading_words(const EarthNode& root);

double width_of(const EarthingCanvas& canvas, const EarthNode& node);

/// Lengths of the columns below each level of bars.
std::vector<double> level_heights(const EarthingCanvas& canvas, const EarthNode& node);

}  // namespace earthing

/// Where a group of a sheet stands.
Point place_of(const Group& group);

/// Where the other sheets show what has that designation; empty if none does.
EarthingReference reference_to(const EarthingCanvas& canvas, const std::string& designation);

/// The tree as parts no wider than `width` and, where it can be, no higher than `height`. What is
/// cut off is a part of its own, with its bar at the top; a stub stays where it was.
std::vector<EarthingPart> earthing_parts(const EarthingCanvas& canvas, EarthNode root, double width,
                                         double height);

}  // namespace linewright::diagram
