// Whether assemblies, busbars and switches bear the heat of a fault that lasts.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// What the direct-current part adds to the heat of a fault.
///     m = (exp(4 f T ln(kappa - 1)) - 1) / (2 f T ln(kappa - 1));  2 for kappa = 2
/// Fails when kappa is not within 1.02 and 2, or frequency and time are not above 0.
/// Source: IEC 60909-0, thermal equivalent short-circuit current (from memory).
Result<double> direct_current_heat(double kappa, Frequency frequency, Time lasts);

/// The steady current that would heat as much: Ith = I sqrt(m + 1).
/// Valid for: faults whose alternating part does not decay (n = 1), far from machines.
/// Source: as above.
Current thermal_equivalent(Current symmetrical, double direct_current_heat);

/// What equipment is declared to bear.
struct ShortTimeRating {
  std::optional<Current> current;   ///< Icw
  Time lasts = 1.0 * unit::second;  ///< The time it is declared for.
};

/// Whether it bears the equivalent current for this long. For less than the declared time the
/// declared current itself is the limit, since contacts and supports see forces too.
///     Ith <= Icw for T <= Tk,  Ith <= Icw sqrt(Tk / T) above
/// Source: IEC 60909-0 and 60865-1, rated short-time withstand current (from memory).
Judgement bears_heat(const ShortTimeRating& rating, std::optional<Current> equivalent, Time lasts);

}  // namespace linewright::electrical
