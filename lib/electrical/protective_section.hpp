// The section of a protective conductor without arithmetic: by the lines beside it.
#pragma once

#include "electrical/conductor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// The least section for a protective conductor of the lines' material: S up to 16 mm2, 16 up to
/// 35, half of S above. For another material multiply by k1 / k2 (`adiabatic_factor`). Fails when
/// the section is not above 0. Source: IEC 60364-5-54:2011, Table 54.2.
Result<Area> protective_section(Area line);

enum class MechanicalProtection { none, given };

/// The least section where it is neither a core of the cable nor in one enclosure with the lines:
/// copper 2.5 mm2 with mechanical protection, 4 without; aluminium 16.
/// Fails for steel, for which the clause has no figure.
/// Source: IEC 60364-5-54:2011, 543.1.3 (from memory; copper 4 seen in print).
Result<Area> separate_protective_section(Material material, MechanicalProtection protection);

/// The least section of a PEN conductor in a fixed installation: copper 10 mm2, aluminium 16.
/// Fails for steel.
/// Source: IEC 60364-5-54:2011, 543.4.1 (from memory).
Result<Area> pen_section(Material material);

}  // namespace linewright::electrical
