#include "findings/utf8.hpp"

#include <algorithm>
#include <array>

namespace linewright::findings {
namespace {

constexpr char32_t replacement = 0xFFFD;
constexpr std::string_view replacement_bytes = "\xEF\xBF\xBD";

struct Range {
  char32_t first;
  char32_t last;
};

template <std::size_t N>
bool is_in(const std::array<Range, N>& ranges, char32_t code) {
  return std::ranges::any_of(
      ranges, [code](const Range& range) { return code >= range.first && code <= range.last; });
}

unsigned char byte_at(std::string_view text, std::size_t index) {
  return static_cast<unsigned char>(text[index]);
}

/// Bytes that a sequence with this first byte takes; 0 for one that cannot begin a sequence.
std::size_t sequence_length(unsigned char first) {
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return 2;
  if (first >= 0xE0 && first <= 0xEF) return 3;
  if (first >= 0xF0 && first <= 0xF4) return 4;
  return 0;
}

/// Smallest code that may be written with so many bytes; a smaller one is an overlong form.
constexpr std::array<char32_t, 5> smallest{0, 0, 0x80, 0x800, 0x10000};

bool is_allowed(char32_t code, std::size_t length) {
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return code >= smallest[length] && code <= 0x10FFFF && !surrogate;
}

}  // namespace

Character character_at(std::string_view text, std::size_t byte) {
  const Character broken{replacement, 1, false};
  const unsigned char first = byte_at(text, byte);
  const std::size_t length = sequence_length(first);
  if (length == 1) return {first, 1, true};
  if (length == 0 || byte + length > text.size()) return broken;
  char32_t code = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    const unsigned char next = byte_at(text, byte + i);
    if ((next & 0xC0U) != 0x80U) return broken;
    code = (code << 6U) | (next & 0x3FU);
  }
  if (!is_allowed(code, length)) return broken;
  return {code, length, true};
}

bool is_utf8(std::string_view text) {
  for (std::size_t byte = 0; byte < text.size();) {
    const Character character = character_at(text, byte);
    if (!character.valid) return false;
    byte += character.bytes;
  }
  return true;
}

std::size_t count_characters(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t byte = 0; byte < text.size(); byte += character_at(text, byte).bytes) {
    ++count;
  }
  return count;
}

// The ranges are those of Unicode's East Asian Width (W and F) and of its combining marks, as far
// as terminals agree on them (from memory).
int width_of(char32_t code) {
  constexpr std::array<Range, 4> none{
      {{0x0300, 0x036F}, {0x200B, 0x200F}, {0x20D0, 0x20F0}, {0xFE00, 0xFE0F}}};
  constexpr std::array<Range, 9> two{{{0x1100, 0x115F},
                                      {0x2E80, 0xA4CF},
                                      {0xAC00, 0xD7A3},
                                      {0xF900, 0xFAFF},
                                      {0xFE30, 0xFE6F},
                                      {0xFF00, 0xFF60},
                                      {0xFFE0, 0xFFE6},
                                      {0x1F300, 0x1FAFF},
                                      {0x20000, 0x3FFFD}}};
  if (is_in(none, code)) return 0;
  return is_in(two, code) ? 2 : 1;
}

std::string shown_safely(std::string_view text) {
  constexpr std::array<Range, 7> unsafe{{{0x00, 0x08},
                                         {0x0A, 0x1F},
                                         {0x7F, 0x9F},
                                         {0x200E, 0x200F},
                                         {0x2028, 0x202E},
                                         {0x2066, 0x2069},
                                         {0xFEFF, 0xFEFF}}};
  std::string shown;
  shown.reserve(text.size());
  for (std::size_t byte = 0; byte < text.size();) {
    const Character character = character_at(text, byte);
    const bool keep = character.valid && !is_in(unsafe, character.code);
    shown += keep ? text.substr(byte, character.bytes) : replacement_bytes;
    byte += character.bytes;
  }
  return shown;
}

}  // namespace linewright::findings
