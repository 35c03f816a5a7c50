// Reads quantities as people write them: "16 mm²", "16mm2", "6 kA", "30 mA".
#pragma once

#include <string_view>

#include "units/kinds.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright {

namespace units {

/// The number in coherent SI units; the core of read_quantity.
Result<double> read_si(const Kind& kind, std::string_view text);

}  // namespace units

/// The quantity that the text states, whatever the locale. Fails with what is expected when the
/// number or the unit is missing, when the unit is of another kind (and says of which), and when
/// the value is impossible, such as a negative length.
template <class Q>
Result<Q> read_quantity(std::string_view text) {
  return units::read_si(units::kind_of<Q>(), text).map(units::from_si<Q>);
}

/// A share of one: "90 %" and "0.9" are 0.9. Fails outside 0 to 1.
Result<double> read_share(std::string_view text);

/// A plain number without a unit, finite.
Result<double> read_number(std::string_view text);

/// A plain whole number, not negative, written in digits only ("010" is ten).
Result<int> read_count(std::string_view text);

}  // namespace linewright
