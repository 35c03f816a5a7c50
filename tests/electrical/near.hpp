// Comparing quantities with what a source printed.
#pragma once

#include <catch2/catch.hpp>

#include "electrical/phasor.hpp"

namespace linewright::testing {

/// Within a share of the expected value.
template <class Q>
bool near(Q found, Q expected, double share) {
  const double a = electrical::si_of(found);
  const double b = electrical::si_of(expected);
  return std::abs(a - b) <= share * std::abs(b) + 1e-12;
}

}  // namespace linewright::testing
