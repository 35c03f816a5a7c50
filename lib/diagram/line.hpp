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
  std::vector<Separation> separations;  ///< without loops
  std::vector<Pull> pulls;
};

/// The leftmost place of each variable, `air` mm added to airy distances.
/// Precondition: the separations form no loop.
std::vector<double> leftmost(const Line& line, double air);

/// How far the leftmost places go beyond the rightmost allowed ones, summed up; 0: it fits.
double excess(const Line& line, const std::vector<double>& places);

/// Places for all variables that keep every distance and limit and follow the pulls; the `snapped`
/// first variables stand on the module grid. Nothing if it does not fit.
std::optional<std::vector<double>> settle(const Line& line, double air, std::size_t snapped);

}  // namespace linewright::diagram
