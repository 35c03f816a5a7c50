// What loads draw: per phase, in the neutral, and with diversity.
#pragma once

#include <array>
#include <span>

#include "electrical/phasor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// The current of a load at this voltage, lagging for cos phi below 1.
/// Fails when cos phi is not within 0 (left out) and 1, or the voltage is zero.
Result<CurrentPhasor> load_current(ActivePower power, double cos_phi, VoltagePhasor across);

/// The currents of several loads together, line by line: fundamental as phasors, third harmonics by
/// size, since those of the three lines are in step with each other.
struct LineCurrents {
  std::array<CurrentPhasor, 3> line;
  std::array<Current, 3> third_harmonic{};

  LineCurrents& operator+=(const LineCurrents& other);
};

/// The current in the neutral.
///     IN = sqrt(|I1 + I2 + I3|^2 + (h1 + h2 + h3)^2)
/// Source: sum of phasors; harmonics of different order add as squares.
Current neutral_current(const LineCurrents& currents);

/// How far the lines differ, largest less smallest, by size.
Current unbalance(const LineCurrents& currents);

/// Shares of the largest, the second and every further item of a sum with diversity.
struct Diversity {
  double first;
  double second;
  double rest;
};

/// Rings and radials of one dwelling: the largest in full and two fifths of the others.
/// Source: guide to wiring rules, table of allowances for diversity, household column.
inline constexpr Diversity dwelling_circuits{1.0, 0.4, 0.4};
/// Instantaneous water heaters: the two largest in full, a quarter of the others.
/// Source: as above.
inline constexpr Diversity instantaneous_heaters{1.0, 1.0, 0.25};

/// Sum of currents of one kind with diversity, in any order.
/// Valid for: what the table says it is for; a rule uses it only where the file declares it.
Current diversified(std::span<const Current> currents, const Diversity& diversity);

enum class CookerControl { plain, with_socket };

/// A household cooker: 10 A, three tenths of the rest, 5 A more if its control has a socket.
/// Source: as above.
Current cooker_demand(Current rated, CookerControl control);

/// The factor on the sum of so many alike flats on one riser, without electric heating.
/// Fails below one.
/// Source: an installation guide of 2018, chapter A (from a scan with misread digits; 0.53, 0.46
/// and 0.40 clear, the others as remembered).
Result<double> riser_factor(int consumers);

}  // namespace linewright::electrical
