#include "electrical/neutral_load.hpp"

namespace linewright::electrical {

Result<HarmonicLoad> harmonic_load(Current line, double third_harmonic) {
  const double h = third_harmonic;
  if (!(h >= 0.0 && h <= 1.0)) return fail("a share of third harmonic lies within 0 and 1");
  if (!(line.si >= 0.0)) return fail("a current is not below 0");
  const Current neutral = 3.0 * h * line;
  const Current sizing = h > 0.33 ? neutral : line;
  const double factor = h > 0.15 && h <= 0.45 ? 0.86 : 1.0;
  return HarmonicLoad{neutral, sizing, factor, sizing / factor};
}

}  // namespace linewright::electrical
