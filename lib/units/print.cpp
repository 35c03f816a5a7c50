#include "units/print.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

namespace linewright {
namespace {

using units::Kind;
using units::UnitName;

/// The number with so many decimals, trailing zeros cut.
std::string fixed(double value, int decimals) {
  // The largest double has 309 digits before the point.
  std::array<char, 400> buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::fixed, decimals);
  std::string text(buffer.data(), end.ptr);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

double parsed(const std::string& text) {
  double value = 0.0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

/// The shortest digits that give just this value when read in that unit, if there are any.
std::optional<std::string> exact_digits(double si, const UnitName& unit) {
  constexpr double longest = 1e15;
  constexpr int most_decimals = 24;
  const double number = si / unit.scale;
  if (std::abs(number) < longest) {
    for (int decimals = 0; decimals <= most_decimals; ++decimals) {
      std::string text = fixed(number, decimals);
      if (parsed(text) * unit.scale == si) return text;
    }
  }
  std::array<char, 64> buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number);
  std::string text(buffer.data(), end.ptr);
  if (parsed(text) * unit.scale == si) return text;
  return std::nullopt;
}

bool is_usual(const UnitName& unit, double si) {
  return unit.from >= 0.0 && std::abs(si) >= unit.from * unit.scale;
}

std::string joined(const std::string& digits, const UnitName& unit) {
  return digits + " " + std::string(unit.printed);
}

/// Characters, not bytes: "µA" is as long as "mA".
std::size_t width(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) {
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++count;
  }
  return count;
}

const UnitName& base_unit(const Kind& kind) {
  for (const UnitName& unit : kind.units) {
    if (unit.scale == 1.0) return unit;
  }
  return kind.units.front();
}

/// The printed unit nearest to the base unit, for a value of nothing.
const UnitName& unit_of_zero(const Kind& kind) {
  if (base_unit(kind).from >= 0.0) return base_unit(kind);
  for (const UnitName& unit : kind.units) {
    if (unit.from >= 0.0) return unit;
  }
  return kind.units.front();
}

}  // namespace

namespace units {

std::string print_si(const Kind& kind, double si) {
  if (si == 0.0) return joined("0", unit_of_zero(kind));
  std::optional<std::string> best;
  for (const UnitName& unit : kind.units) {
    if (!is_usual(unit, si)) continue;
    const std::optional<std::string> digits = exact_digits(si, unit);
    if (!digits) continue;
    std::string text = joined(*digits, unit);
    // Units come from small to large: among texts of one length the larger unit wins.
    if (!best || width(text) <= width(*best)) best = std::move(text);
  }
  if (best) return *best;
  const UnitName& base = base_unit(kind);
  return joined(exact_digits(si, base).value_or("?"), base);
}

std::string print_si_rounded(const Kind& kind, double si, int significant) {
  if (si == 0.0 || !std::isfinite(si)) return print_si(kind, si);
  std::optional<std::string> best;
  for (const UnitName& unit : kind.units) {
    if (!is_usual(unit, si) && &unit != &kind.units.front()) continue;
    const double number = si / unit.scale;
    if (!std::isfinite(number)) continue;
    const int before_point = static_cast<int>(std::floor(std::log10(std::abs(number)))) + 1;
    std::string text = joined(fixed(number, std::max(0, significant - before_point)), unit);
    if (!best || width(text) <= width(*best)) best = std::move(text);
  }
  return best ? *best : print_si(kind, si);
}

}  // namespace units

std::string print_number(double value, int decimals) {
  return fixed(value, decimals);
}

}  // namespace linewright
