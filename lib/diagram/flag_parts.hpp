// Balloons and their table, each for itself.
#pragma once

#include <cstddef>
#include <vector>

#include "diagram/flags.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// Balloons of one element: the numbers of its findings, from 1.
struct Balloons {
  std::string element;
  std::vector<std::size_t> numbers;
};

/// Draws the balloons of all elements that stand on this sheet, each where it covers least, and
/// answers which of them do not.
std::vector<Balloons> draw_balloons(const std::vector<Flag>& flags,
                                    const std::vector<Balloons>& balloons, Sketch& sketch);

/// The sheets of the table, without title blocks.
std::vector<Sheet> flag_tables(const site::Site& site, const Metrics& metrics,
                               const std::vector<Flag>& flags, const std::string& remark);

}  // namespace linewright::diagram
