// Characters of a UTF-8 text: decoding, counting, and making text from outside fit to be shown.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace linewright::findings {

/// One character of a text and the bytes it takes there.
struct Character {
  char32_t code;      ///< U+FFFD where the bytes are no UTF-8
  std::size_t bytes;  ///< at least 1
  bool valid;
};

/// The character that begins at that byte, which must lie inside the text. Refuses overlong forms,
/// surrogates and what lies beyond U+10FFFF; a broken sequence is taken one byte at a time.
Character character_at(std::string_view text, std::size_t byte);

/// True when every byte belongs to a well-formed character.
bool is_utf8(std::string_view text);

/// How many characters the text has; a byte that is no UTF-8 counts as one.
std::size_t count_characters(std::string_view text);

/// Columns that a character takes in a terminal: 0, 1 or 2.
int width_of(char32_t code);

/// The text with everything replaced that could forge or upset a terminal: control characters,
/// marks that reverse the direction of writing, broken UTF-8. Tabs stay.
std::string shown_safely(std::string_view text);

}  // namespace linewright::findings
