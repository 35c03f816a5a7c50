// What a breaker with a marked energy limiting class lets through.
#pragma once

#include "electrical/breaker.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// The figure in the second square on the device, 1 to 3.
enum class EnergyClass { one, two, three };

struct LimitingBreaker {
  Characteristic characteristic;
  Current rated;
  Current short_circuit_capacity;  ///< Icn
  EnergyClass energy_class;
};

/// The most it lets through of a fault of up to its Icn: an upper end for every smaller fault.
/// Fails for class 1, type D, more than 40 A, and an Icn that the table lacks: these have no limit.
/// Source: EN 60898-1, Annex ZA (let_through.csv).
Result<LetThrough> class_let_through(const LimitingBreaker& breaker);

}  // namespace linewright::electrical
