// The kinds of quantity that people write, with the spellings of their units: the one table that
// reading and printing share.
#pragma once

#include <span>
#include <string_view>

#include "units/quantity.hpp"

namespace linewright::units {

/// One unit of a kind and the ways to write it.
struct UnitName {
  std::string_view printed;                ///< the spelling that is printed
  std::span<const std::string_view> also;  ///< further spellings that are read
  double scale;                            ///< size in the coherent SI unit
  double from;  ///< printed for sizes from this many of it; negative: read, never printed
};

/// Which numbers make sense for a kind.
enum class Sign { positive, not_negative, any };

/// A kind of quantity: what to call it, how people write it, which values it may have.
struct Kind {
  std::string_view name;     ///< with its article, as in "a current"
  std::string_view example;  ///< as in "'63 A' or '30 mA'"
  Sign sign;
  std::span<const UnitName> units;  ///< from the smallest to the largest
};

/// The kind of a quantity type; defined for all types that can be read and printed.
template <class Q>
const Kind& kind_of();

/// Every kind there is.
std::span<const Kind* const> all_kinds();

/// The plain number inside a quantity, and back.
constexpr double to_si(Celsius value) {
  return value.degrees;
}
template <int V, int A, int M, int S, int K>
constexpr double to_si(Quantity<V, A, M, S, K> value) {
  return value.si;
}
template <class Tag, class Base>
constexpr double to_si(OfKind<Tag, Base> value) {
  return value.base.si;
}

template <class Q>
constexpr Q from_si(double si) {
  return Q{si};
}

}  // namespace linewright::units
