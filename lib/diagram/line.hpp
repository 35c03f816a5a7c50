// Places on a line: variables that keep their distances, as near to their wishes as these allow.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace linewright::diagram {

/// `after` stands at least `least` mm right of `before`; `airy` distances grow with the sheet.
struct Separation {
  std::size_t before = 0;
  std::size_t after = 0;
  double least = 0.0;
  bool airy = false;
};

/// A wish that `b` stands `offset` mm right of `a`.
struct Pull {
  std::size_t a = 0;
  std::size_t b = 0;
  double offset = 0.0;
  double weight = 1.0;
};

/// Variables on a line with the room each has by itself.
struct Line {
  std::vector<double> least;            ///< by variable, the leftmost place allowed
  std::vector<double> most;             ///< by variable, the rightmost place allowed
  std::size_t snapped = 0;              ///< the first so many variables stand on the module grid
  std::vector<Separation> separations;  ///< without loops
  std::vector<Pull> pulls;
};

/// Whether places are rounded up to the module grid where they must stand on it.
enum class Grid { ignored, kept };

/// The leftmost place of each variable, `air` mm added to airy distances.
/// Precondition: the separations form no loop.
std::vector<double> leftmost(const Line& line, double air, Grid grid);

/// How far the places go beyond the rightmost allowed ones at worst; 0: they fit.
double worst_excess(const Line& line, const std::vector<double>& places);

/// The same summed up over all variables.
double excess(const Line& line, const std::vector<double>& places);

/// Places for all variables that keep every distance and limit and follow the pulls. Nothing if it
/// does not fit.
std::optional<std::vector<double>> settle(const Line& line, double air);

}  // namespace linewright::diagram
