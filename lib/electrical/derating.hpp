// What a generator still gives high up and in the heat.
#pragma once

#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// How a maker lets the rating fall: nothing up to a height and a temperature, then by steps.
struct Derating {
  Length height_from;
  Length height_step;
  double loss_a_height_step;
  Celsius air_from;
  TemperatureDifference air_step;
  double loss_an_air_step;
};

/// 3 % each 500 m above 1000 m and 3 % each 5 K above 40 degrees: what alternator sheets and
/// manuals of portable sets print. Sets with a naturally aspirated engine lose more (1 % each 100
/// m): the maker's own figures come first, and this is a choice that has to be declared.
inline constexpr Derating alternator_derating{
    1000.0 * unit::metre, 500.0 * unit::metre, 0.03, {40.0}, 5.0 * unit::kelvin, 0.03};

/// The share of the rating that is left; both multiply, and parts of a step count in proportion.
/// Fails when a step is not above 0, or when nothing would be left.
/// Source: alternator derating sheets, notes on cumulative multipliers.
Result<double> derating_factor(const Derating& derating, Length height, Celsius air);

}  // namespace linewright::electrical
