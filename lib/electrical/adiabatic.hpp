// Whether a conductor survives a fault until it is cleared.
#pragma once

#include <optional>

#include "electrical/conductor.hpp"
#include "electrical/judgement.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// k of the adiabatic formula, in A s^1/2 / mm2, which the trade leaves out.
struct AdiabaticFactor {
  double k = 0.0;
};

/// Where the conductor is: live in a cable, protective and apart, or protective as a core or
/// bunched.
enum class ConductorPlace { live, separate, core };

/// k for an insulated conductor.
/// Fails when the table has no such line (steel does not carry load).
/// Source: IEC 60364-4-43:2008 Table 43A, 60364-5-54:2011 Tables A.54.2 and A.54.4 (adiabatic.csv).
Result<AdiabaticFactor> adiabatic_factor(ConductorPlace place, Insulation insulation,
                                         Material material, Area cross_section);

/// What is near a bare protective conductor.
enum class Surroundings { visible, normal, fire_risk };

/// k for a bare protective conductor.
/// Source: IEC 60364-5-54:2011 Table A.54.6 (adiabatic.csv).
Result<AdiabaticFactor> bare_adiabatic_factor(Surroundings surroundings, Material material);

/// k from the metal and its temperatures, where no table has them.
///     k = sqrt(Qc (B + 20) / rho20 ln((B + theta_f) / (B + theta_i)))
/// Fails when the final temperature is not above the initial one, or that is below -20.
/// Source: IEC 60364-5-54:2011, Annex A, Table A.54.1.
Result<AdiabaticFactor> computed_adiabatic_factor(Material material, Celsius initial,
                                                  Celsius final);

/// The smallest section that a current may heat for a time: S = I sqrt(t) / k.
/// Fails when the time is not within 0.1 and 5 s: below, the device's let-through decides
/// (`withstands`); above, heat leaves the conductor.
/// Source: IEC 60364-4-43:2008 434.5.2, 60364-5-54:2011 543.1.2.
Result<Area> adiabatic_section(Current fault, Time clearing, AdiabaticFactor factor);

/// What a conductor withstands: k^2 S^2.
LetThrough withstand(AdiabaticFactor factor, Area cross_section);

/// Whether what the device lets through stays within that; unknown if nobody says what it lets
/// through.
/// Source: IEC 60364-4-43:2008 434.5.2.
Judgement withstands(std::optional<LetThrough> let_through, AdiabaticFactor factor,
                     Area cross_section);

}  // namespace linewright::electrical
