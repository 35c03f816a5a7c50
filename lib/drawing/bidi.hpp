// The order in which the characters of a line are read and set: the bidirectional algorithm of
// Unicode (UAX #9). For sources of this folder only.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace linewright::drawing {

/// A line's own direction, which its first letter decides, and the level of each character: odd
/// ones run from right to left.
struct Directions {
  bool right_to_left_line = false;
  std::vector<std::uint8_t> levels;
};

/// The directions of a line that holds no marks that turn it (see clean_text).
Directions directions_of(std::u32string_view line);

/// The order from left to right of pieces that each have one level, as indices (rule L2).
std::vector<std::size_t> visual_order(const std::vector<std::uint8_t>& levels);

}  // namespace linewright::drawing
