// Single values of the file: texts, answers, choices, numbers, quantities.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "input/mistakes.hpp"
#include "input/node.hpp"
#include "units/read.hpp"

// All functions take null for a value that is not given and then say nothing; a value that cannot
// be read is reported at its place and counts as not given.
namespace linewright::input {

/// The words of a scalar; empty if not given.
std::string text(const Node* node, Mistakes& mistakes);

/// The text of a scalar that is not free text; none after reporting a list, a map, or a number that
/// YAML programs read differently from people (010, 1_000, 12:30).
std::optional<std::string> value_text(const Node* node, Mistakes& mistakes);

/// yes or no.
std::optional<bool> yes_no(const Node* node, Mistakes& mistakes);

/// A number without unit, a whole number of at least one, a share such as 90 %.
std::optional<double> number(const Node* node, Mistakes& mistakes);
std::optional<int> count(const Node* node, Mistakes& mistakes);
std::optional<double> share(const Node* node, Mistakes& mistakes);

/// Splits "expected X; Y" of the unit readers into a message that quotes the file, and its mend.
void report_value(const Node& node, std::string_view written, const Failure& failure,
                  Mistakes& mistakes);

/// A quantity with its unit.
template <class Q>
std::optional<Q> quantity(const Node* node, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return std::nullopt;
  const Result<Q> result = read_quantity<Q>(*written);
  if (result) return *result;
  report_value(*node, *written, result.error(), mistakes);
  return std::nullopt;
}

/// A range "350 V to 450 V"; a single value is its upper end.
template <class Q>
struct Range {
  std::optional<Q> low;
  std::optional<Q> high;
};
template <class Q>
Range<Q> range(const Node* node, Mistakes& mistakes);

/// "20 kVA for 10 s": a value and for how long; the time is left alone where none is written.
template <class Q>
void read_for(const Node* node, std::optional<Q>& value, std::optional<Time>& time,
              Mistakes& mistakes);

/// A word for a value of an enum.
template <class Value>
struct Choice {
  std::string_view word;
  Value value;
};

void report_choice(const Node& node, std::span<const std::string_view> words, Mistakes& mistakes);

/// The value whose word is written, in any spelling.
template <class Value, std::size_t N>
std::optional<Value> choice(const Node* node, const Choice<Value> (&choices)[N],
                            Mistakes& mistakes);

}  // namespace linewright::input

#include "input/values_templates.hpp"
