// Factors on the tabulated capacity: surroundings, soil, other circuits, thermal insulation.
//
// One rule for all of them: a value between two lines of the table takes the line with the lower
// factor, never something between; a value beyond the table fails, unless the table's own note says
// how it goes on.
#pragma once

#include "electrical/conductor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// How badly soil carries heat away, in kelvin metre a watt.
using ThermalResistivity = decltype(TemperatureDifference{} * Length{} / Power{});
inline constexpr ThermalResistivity kelvin_metre_per_watt{1.0};

/// For cables in air other than 30 degrees warm. Cooler than 10 counts as 10.
/// Source: IEC 60364-5-52:2009, Table B.52.14 (correction.csv).
Result<double> air_factor(Insulation insulation, Celsius air);

/// For cables in ground other than 20 degrees warm. Cooler than 10 counts as 10.
/// Source: IEC 60364-5-52:2009, Table B.52.15 (correction.csv).
Result<double> ground_factor(Insulation insulation, Celsius ground);

enum class Burial { in_duct, direct };

/// For soil other than 2.5 K m/W. Better than 0.5 counts as 0.5.
/// Source: IEC 60364-5-52:2009, Table B.52.16 (correction.csv).
Result<double> soil_factor(Burial burial, ThermalResistivity soil);

/// How circuits lie beside each other above ground, touching.
enum class Grouping { bunched, wall, ceiling, perforated_tray, ladder };

/// For several loaded circuits together. Layers of more than the table has keep its last factor, as
/// its note says; more than 20 bunched fail.
/// Valid for: circuits alike in size and load (the table's note).
/// Source: IEC 60364-5-52:2009, Table B.52.17 (correction.csv).
Result<double> grouping_factor(Grouping grouping, int circuits);

/// For several cables in the ground, by the clear distance between cables or ducts; distances
/// between those of the table take the nearer spacing. More than six fail.
/// Source: IEC 60364-5-52:2009, Tables B.52.18, B.52.19 part A (correction.csv).
Result<double> buried_grouping_factor(Burial burial, Length clearance, int circuits);

/// For a cable wholly surrounded by thermal insulation over a length; from 500 mm on it is 0.5.
/// Source: BS 7671:2008 onward, Table 52.2 (correction.csv).
Result<double> surrounded_factor(Length surrounded);

}  // namespace linewright::electrical
