// The neutral of a three-phase circuit whose loads draw third harmonics.
#pragma once

#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// The current by which a four- or five-core cable is chosen, and what it is divided by.
struct HarmonicLoad {
  Current neutral;     ///< of the third harmonic alone, three times that of one line
  Current sizing;      ///< of the line up to a third harmonic of 33 %, of the neutral above
  double factor;       ///< 1 or 0.86
  Current equivalent;  ///< sizing / factor: the tabulated capacity (three loaded) must reach it
};

/// Balanced lines, each with this share of third harmonic (0.2 for 20 % of the line current).
///     IN = 3 h I;  h <= 0.15: I;  h <= 0.33: I / 0.86;  h <= 0.45: IN / 0.86;  above: IN
/// Fails when the share is not within 0 to 1.
/// Valid for: cores of one material and size in one cable, balanced lines.
/// Source: IEC 60364-5-52:2009, Annex E, Table E.52.1 (from memory).
Result<HarmonicLoad> harmonic_load(Current line, double third_harmonic);

}  // namespace linewright::electrical
