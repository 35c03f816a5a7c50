// Resistance and reactance of a conductor a metre.
#pragma once

#include "electrical/conductor.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// The highest resistance at 20 degrees that a conductor of this size may have.
/// Fails when the size is not in the table.
/// Valid for: direct current; at 50 Hz less than 1 % more up to 150 mm2 (skin effect left out).
/// Source: IEC 60228:2004, Tables 2 and 3 (resistance.csv).
Result<ResistancePerLength> resistance_at_20(Material material, ConductorClass conductor_class,
                                             Area cross_section);

/// The same at another temperature.
///     R = R20 (1 + alpha (theta - 20)),  alpha = 0.004 / K
/// The rounded alpha of the fault calculation is used throughout, as tables of installation
/// practice do (1.20 at 70, 1.28 at 90 degrees); IEC 60287's 0.00393 for copper gives 0.4 % less
/// at 90. Valid for: copper and aluminium, -40 to 250 degrees. Source: IEC 60909-0, conductor
/// temperature in the minimum short circuit.
ResistancePerLength resistance_at(ResistancePerLength r20, Celsius conductor);

/// What is taken for reactance when nothing better is declared.
/// Source: IEC 60364-5-52:2009, Annex G (from memory).
inline constexpr ResistancePerLength conventional_reactance = 0.08 * unit::milliohm_per_metre;

}  // namespace linewright::electrical
