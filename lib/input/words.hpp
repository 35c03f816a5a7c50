// The words of a scalar, each with its own place, and what a word may be.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "input/node.hpp"

namespace linewright::input {

/// One word of a line.
struct Word {
  std::string text;
  Place where;
};

/// The words of a scalar, split at blanks; marks within the scalar where it stands on one line.
std::vector<Word> words_of(const Node& node);

/// The place of some bytes of a scalar; the whole scalar where it does not stand on one line.
Place place_in(const Node& node, std::size_t first, std::size_t size);

/// True for "-Q1", "+A4": a sign and a letter. The sign "−" (U+2212) is not one.
bool is_designation(std::string_view word);

/// True for words that read as a reference without its sign: "A1", "Q3:I", "WB2".
bool is_bare_reference(std::string_view word);

/// True where only letters, digits and a few marks are used, as in "-Q1", "+A4", "-X1.2".
bool is_sound_designation(std::string_view word);

}  // namespace linewright::input
