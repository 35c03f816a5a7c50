// The templates of values.hpp, included by it alone.
#pragma once

#include <array>

#include "input/nearest.hpp"
#include "input/values.hpp"

namespace linewright::input {

template <class Q>
Range<Q> range(const Node* node, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return {};
  const std::size_t to = written->find(" to ");
  if (to == std::string::npos) return {std::nullopt, quantity<Q>(node, mistakes)};
  const Node first = scalar(written->substr(0, to), node->where);
  const Node second = scalar(written->substr(to + 4), node->where);
  Range<Q> both{quantity<Q>(&first, mistakes), quantity<Q>(&second, mistakes)};
  if (both.low && both.high && *both.high < *both.low)
    mistakes.add(node->where, "the range " + quote(*written) + " runs backwards",
                 "write the smaller value first");
  return both;
}

template <class Q>
void read_for(const Node* node, std::optional<Q>& value, std::optional<Time>& time,
              Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(node, mistakes);
  if (!written) return;
  const std::size_t cut = written->find(" for ");
  const Node first = scalar(written->substr(0, cut), node->where);
  value = quantity<Q>(&first, mistakes);
  if (cut == std::string::npos) return;
  const Node second = scalar(written->substr(cut + 5), node->where);
  time = quantity<Time>(&second, mistakes);
}

template <class Value, std::size_t N>
std::optional<Value> choice(const Node* node, const Choice<Value> (&choices)[N],
                            Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  if (node->is_scalar()) {
    const std::string word = plain(node->text);
    for (const Choice<Value>& each : choices)
      if (plain(each.word) == word) return each.value;
  }
  std::array<std::string_view, N> words;
  for (std::size_t i = 0; i < N; ++i)
    words[i] = choices[i].word;
  report_choice(*node, words, mistakes);
  return std::nullopt;
}

}  // namespace linewright::input
