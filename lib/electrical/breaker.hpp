// When a circuit breaker of the household kind operates: the gates of its standard.
#pragma once

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// Instantaneous tripping: B 3 to 5, C 5 to 10, D 10 to 20 times the rated current.
enum class Characteristic { b, c, d };

/// Below the least it does not trip at once, from the most on it surely does (in under 0.1 s).
/// D takes 20 In, as the standard allows; a guide that computes with 14 In assumes a maker.
/// Source: IEC 60898-1, Table 7.
Bounds<Current> instantaneous_band(Characteristic characteristic, Current rated);

/// Between which times it operates; the most is infinite where it need not.
///     1.13 In not within 1 h (2 h above 63 A); 1.45 In within that; 2.55 In 1 s to 60 s (120 s
///     above 32 A); lower edge 0.1 s to B 45 s, C 15 s, D 4 s (twice that above 32 A); upper edge
///     within 0.1 s
/// Between two gates the worse counts: the most of the lower one, the least of the higher one.
/// Fails when the rated current is not within 0 to 125 A or the fault current is below 0.
/// Valid for: alternating current, 30 degrees around the device, from cold.
/// Source: IEC 60898-1, Table 7 (multiples seen in print, durations from memory).
Result<Bounds<Time>> breaker_time(Characteristic characteristic, Current rated, Current fault);

}  // namespace linewright::electrical
