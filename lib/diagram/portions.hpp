// A bar with more circuits than a sheet is wide, in even portions.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "diagram/measure.hpp"
#include "diagram/plan.hpp"

namespace linewright::diagram {

/// What hangs from a bar or joint and can be continued elsewhere.
struct Bar {
  std::size_t hub = 0;
  std::vector<std::size_t> chains;  ///< in the plan's order
  std::vector<double> widths;       ///< by chain of these, mm
  double width = 0.0;               ///< of all
};

/// The bar or joint with the most hanging from it, where no chain alone is wider than `most`;
/// nothing if none has two chains that could part.
std::optional<Bar> widest_bar(const Plan& plan, const Measures& measures, double most);

/// The chains of a bar in their order as `count` portions of about the same width.
std::vector<std::vector<std::size_t>> even_portions(const Bar& bar, std::size_t count);

}  // namespace linewright::diagram
