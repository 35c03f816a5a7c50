// Prints quantities as the trade writes them: "16 mm²", "6 kA", "30 mA". Knows no locale.
#pragma once

#include <string>

#include <fmt/core.h>

#include "units/kinds.hpp"
#include "units/quantity.hpp"

namespace linewright {

namespace units {

/// The text of a number in coherent SI units; the cores of print and print_rounded.
std::string print_si(const Kind& kind, double si);
std::string print_si_rounded(const Kind& kind, double si, int significant);

}  // namespace units

/// The shortest usual text that reads back to just this value.
template <class Q>
std::string print(Q value) {
  return units::print_si(units::kind_of<Q>(), units::to_si(value));
}

/// The value to so many significant digits, as a computed one is shown: "23.85 V".
template <class Q>
std::string print_rounded(Q value, int significant = 4) {
  return units::print_si_rounded(units::kind_of<Q>(), units::to_si(value), significant);
}

/// A plain number, rounded to so many decimals, without trailing zeros and never "-0".
std::string print_number(double value, int decimals = 2);

}  // namespace linewright

/// Lets messages name quantities: fmt::format("{} > {}", drop, limit). Values as people give them
/// come out whole, computed ones to four significant digits.
template <class Q>
  requires requires(Q value) { linewright::units::to_si(value); }
struct fmt::formatter<Q> {
  constexpr auto parse(fmt::format_parse_context& context) { return context.begin(); }

  template <class Context>
  auto format(Q value, Context& context) const {
    std::string text = linewright::print(value);
    constexpr std::size_t longest_given = 12;
    if (text.size() > longest_given) text = linewright::print_rounded(value);
    auto out = context.out();
    for (const char c : text)
      *out++ = c;
    return out;
  }
};
