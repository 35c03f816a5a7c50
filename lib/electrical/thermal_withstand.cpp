#include "electrical/thermal_withstand.hpp"

#include <cmath>

namespace linewright::electrical {

Result<double> direct_current_heat(double kappa, Frequency frequency, Time lasts) {
  if (!(kappa >= 1.02 && kappa <= 2.0)) return fail("kappa lies within 1.02 and 2");
  if (!(frequency.si > 0.0 && lasts.si > 0.0)) return fail("frequency and time must be above 0");
  const double exponent = 2.0 * (frequency * lasts) * std::log(kappa - 1.0);
  // expm1(2 x) / x goes to 2 where the direct current never fades.
  if (exponent == 0.0) return 2.0;
  return std::expm1(2.0 * exponent) / exponent;
}

Current thermal_equivalent(Current symmetrical, double direct_current_heat) {
  return std::sqrt(direct_current_heat + 1.0) * symmetrical;
}

Judgement bears_heat(const ShortTimeRating& rating, std::optional<Current> equivalent, Time lasts) {
  if (!rating.current) return Judgement::unknown;
  if (lasts <= rating.lasts) return at_most(equivalent, rating.current);
  const std::optional<Current> longer = std::sqrt(rating.lasts / lasts) * *rating.current;
  return at_most(equivalent, longer);
}

}  // namespace linewright::electrical
