#include "drawing/bidi.hpp"

#include <algorithm>
#include <numeric>

#include <fribidi.h>

namespace linewright::drawing {
namespace {

// The blocks whose characters run from right to left unless they say otherwise (UAX #9,
// DerivedBidiClass.txt). Lines without them need no algorithm.
bool may_run_backward(char32_t c) {
  return (c >= 0x0590 && c <= 0x08FF) || (c >= 0xFB1D && c <= 0xFDFF) ||
         (c >= 0xFE70 && c <= 0xFEFF) || (c >= 0x10800 && c <= 0x10FFF) ||
         (c >= 0x1E800 && c <= 0x1EFFF);
}

// Spaces at the end stand at the end of the line (rule L1, part 4).
void settle_end(std::u32string_view line, Directions& out) {
  for (std::size_t i = line.size(); i > 0 && line[i - 1] == U' '; --i)
    out.levels[i - 1] = out.right_to_left_line ? 1 : 0;
}

}  // namespace

Directions directions_of(std::u32string_view line) {
  Directions out{false, std::vector<std::uint8_t>(line.size(), 0)};
  if (std::none_of(line.begin(), line.end(), may_run_backward)) return out;
  const std::vector<FriBidiChar> characters(line.begin(), line.end());
  const auto count = static_cast<FriBidiStrIndex>(characters.size());
  std::vector<FriBidiCharType> types(characters.size());
  std::vector<FriBidiBracketType> brackets(characters.size());
  std::vector<FriBidiLevel> levels(characters.size());
  fribidi_get_bidi_types(characters.data(), count, types.data());
  fribidi_get_bracket_types(characters.data(), count, types.data(), brackets.data());
  FriBidiParType direction = FRIBIDI_PAR_WLTR;  // by the first letter; without any, left to right
  if (fribidi_get_par_embedding_levels_ex(types.data(), brackets.data(), count, &direction,
                                          levels.data()) == 0) {
    return out;
  }
  out.right_to_left_line = FRIBIDI_IS_RTL(direction) != 0;
  std::transform(levels.begin(), levels.end(), out.levels.begin(),
                 [](FriBidiLevel level) { return static_cast<std::uint8_t>(level); });
  settle_end(line, out);
  return out;
}

std::vector<std::size_t> visual_order(const std::vector<std::uint8_t>& levels) {
  std::vector<std::size_t> order(levels.size());
  std::iota(order.begin(), order.end(), 0U);
  const std::uint8_t highest = levels.empty() ? 0 : *std::max_element(levels.begin(), levels.end());
  for (std::uint8_t level = highest; level > 0; --level) {
    const auto lower = [&](std::size_t i) { return levels[i] < level; };
    for (auto at = order.begin(); at != order.end();) {
      const auto begin = std::find_if_not(at, order.end(), lower);
      const auto end = std::find_if(begin, order.end(), lower);
      std::reverse(begin, end);
      at = end;
    }
  }
  return order;
}

}  // namespace linewright::drawing
