#include "units/read.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <system_error>

#include <fmt/core.h>

namespace linewright {
namespace {

using units::Kind;
using units::Sign;
using units::UnitName;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

/// Cuts blanks, also the two kinds that do not break a line, from both ends.
std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks[] = {" ", "\t", "\u00a0", "\u202f"};
  for (bool cut = true; cut;) {
    cut = false;
    for (const std::string_view blank : blanks) {
      if (text.starts_with(blank)) {
        text.remove_prefix(blank.size());
        cut = true;
      } else if (text.ends_with(blank)) {
        text.remove_suffix(blank.size());
        cut = true;
      }
    }
  }
  return text;
}

/// A number and what follows it.
struct Split {
  double number;
  std::string_view rest;
};

/// Takes the number off the front. The standard readers depend on the locale or take "nan" and
/// "inf"; from_chars does the former never and is kept from the latter. Messages have no subject.
Result<Split> split_number(std::string_view text) {
  if (text.empty()) return fail("nothing is written");
  const std::string_view digits = text.substr(text.front() == '-' ? 1 : 0);
  if (digits.empty() || !(is_digit(digits[0]) || digits[0] == '.')) {
    return fail(fmt::format("'{}' does not begin with a number", text));
  }
  double number = 0.0;
  const char* begin = text.data();
  const char* end = begin + text.size();
  const auto [stop, error] = std::from_chars(begin, end, number);
  if (error == std::errc::invalid_argument) {
    return fail(fmt::format("'{}' does not begin with a number", text));
  }
  if (error != std::errc() || !std::isfinite(number)) {
    return fail(fmt::format("'{}' is beyond any real value", text));
  }
  const std::string_view rest(stop, static_cast<std::size_t>(end - stop));
  if (rest.size() >= 2 && rest[0] == ',' && is_digit(rest[1])) {
    std::string mended(text);
    mended[text.size() - rest.size()] = '.';
    return fail(fmt::format("'{}' has a decimal comma, write '{}'", text, mended));
  }
  if (!rest.empty() && is_digit(trimmed(rest).empty() ? ' ' : trimmed(rest)[0])) {
    return fail(fmt::format("'{}' has a gap between its digits", text));
  }
  return Split{number, trimmed(rest)};
}

bool spells(const UnitName& unit, std::string_view text) {
  return unit.printed == text || std::ranges::find(unit.also, text) != unit.also.end();
}

const UnitName* find_unit(const Kind& kind, std::string_view text) {
  const auto unit =
      std::ranges::find_if(kind.units, [&](const UnitName& it) { return spells(it, text); });
  return unit == kind.units.end() ? nullptr : &*unit;
}

/// What is wrong with a unit that the kind does not have: another kind's, or a slip of the pen.
std::string wrong_unit(const Kind& kind, std::string_view text) {
  if (text.empty()) return "the unit is missing";
  for (const Kind* other : units::all_kinds()) {
    if (find_unit(*other, text) != nullptr) return fmt::format("'{}' is {}", text, other->name);
  }
  for (const UnitName& unit : kind.units) {
    if (same_but_for_case(unit.printed, text)) {
      return fmt::format("'{}' is written '{}'", text, unit.printed);
    }
    for (const std::string_view also : unit.also) {
      if (same_but_for_case(also, text)) return fmt::format("'{}' is written '{}'", text, also);
    }
  }
  return fmt::format("'{}' is not a unit of it", text);
}

/// What is wrong with a value of the kind, if anything.
std::optional<std::string> impossible(const Kind& kind, std::string_view text, double si) {
  constexpr double absolute_zero = -273.15;
  constexpr double largest = 1e15;
  if (!(std::abs(si) <= largest)) return fmt::format("'{}' is beyond any real value", text);
  if (kind.sign != Sign::any && si < 0.0) return fmt::format("'{}' is negative", text);
  if (kind.sign == Sign::positive && !(si > 0.0)) return fmt::format("'{}' is zero", text);
  if (&kind == &units::kind_of<Celsius>() && si < absolute_zero) {
    return fmt::format("'{}' is below absolute zero", text);
  }
  return std::nullopt;
}

}  // namespace

namespace units {

Result<double> read_si(const Kind& kind, std::string_view text) {
  const auto refuse = [&](std::string_view reason) {
    return fail(fmt::format("expected {} such as {}; {}", kind.name, kind.example, reason));
  };
  text = trimmed(text);
  const Result<Split> split = split_number(text);
  if (!split) return refuse(split.error().message);
  const UnitName* unit = find_unit(kind, split->rest);
  if (unit == nullptr) return refuse(wrong_unit(kind, split->rest));
  const double si = split->number * unit->scale;
  if (const auto reason = impossible(kind, text, si)) return refuse(*reason);
  return si;
}

}  // namespace units

Result<double> read_share(std::string_view text) {
  const auto refuse = [](std::string_view reason) {
    return fail(fmt::format("expected a share such as '90 %' or '0.9'; {}", reason));
  };
  text = trimmed(text);
  const Result<Split> split = split_number(text);
  if (!split) return refuse(split.error().message);
  if (!split->rest.empty() && split->rest != "%") {
    return refuse(fmt::format("'{}' is not a unit of it", split->rest));
  }
  const double share = split->rest.empty() ? split->number : split->number / 100.0;
  if (!(share >= 0.0 && share <= 1.0)) return refuse(fmt::format("'{}' is outside 0 to 1", text));
  return share;
}

Result<double> read_number(std::string_view text) {
  text = trimmed(text);
  const Result<Split> split = split_number(text);
  if (!split) return fail(fmt::format("expected a number; {}", split.error().message));
  if (!split->rest.empty()) {
    return fail(fmt::format("expected a number without a unit; '{}' follows it", split->rest));
  }
  return split->number;
}

Result<int> read_count(std::string_view text) {
  text = trimmed(text);
  int count = 0;
  const char* begin = text.data();
  const char* end = begin + text.size();
  const bool digits_only = !text.empty() && std::ranges::all_of(text, is_digit);
  if (!digits_only) return fail(fmt::format("expected a whole number; '{}' is none", text));
  if (std::from_chars(begin, end, count).ec != std::errc()) {
    return fail(fmt::format("expected a whole number; '{}' is too large", text));
  }
  return count;
}

}  // namespace linewright
