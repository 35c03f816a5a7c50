#include "drawing/unicode.hpp"

#include <cstddef>

#include <hb.h>

namespace linewright::drawing {
namespace {

constexpr char32_t replacement = 0xFFFD;

struct Decoded {
  char32_t character = replacement;
  std::size_t length = 1;
};

// One character; shortest form only, no surrogates, nothing beyond U+10FFFF.
Decoded decode_one(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < length) return {};
  char32_t value = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80) return {};
    value = (value << 6U) | (byte(i) & 0x3FU);
  }
  const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
  if (overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return {};
  return {value, length};
}

bool turns_direction(char32_t c) {
  return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0x200E ||
         c == 0x200F || c == 0x061C;
}

bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0);
}

}  // namespace

std::u32string decode_utf8(std::string_view text) {
  std::u32string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const Decoded one = decode_one(text);
    out.push_back(one.character);
    text.remove_prefix(one.length);
  }
  return out;
}

std::string encode_utf8(char32_t c) {
  const auto tail = [c](unsigned shift) {
    return static_cast<char>(0x80U | ((c >> shift) & 0x3FU));
  };
  if (c < 0x80) return {static_cast<char>(c)};
  if (c < 0x800) return {static_cast<char>(0xC0U | (c >> 6U)), tail(0)};
  if (c < 0x10000) return {static_cast<char>(0xE0U | (c >> 12U)), tail(6), tail(0)};
  return {static_cast<char>(0xF0U | (c >> 18U)), tail(12), tail(6), tail(0)};
}

std::string encode_utf8(std::u32string_view text) {
  std::string out;
  for (const char32_t c : text)
    out += encode_utf8(c);
  return out;
}

std::string clean_text(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char32_t c : decode_utf8(text)) {
    const bool line_end = c == '\t' || c == '\n' || c == '\r' || c == 0x2028 || c == 0x2029;
    const bool no_character = (c & 0xFFFEU) == 0xFFFE || (c >= 0xFDD0 && c <= 0xFDEF);
    if (line_end) {
      out += ' ';
    } else if (!is_control(c) && !turns_direction(c) && !no_character) {
      out += encode_utf8(c);
    }
  }
  return out;
}

bool clings_to_previous(char32_t c) {
  const bool joiner = c == 0x00AD || (c >= 0x200B && c <= 0x200D) || (c >= 0x2060 && c <= 0x2064) ||
                      (c >= 0xFE00 && c <= 0xFE0F) || c == 0xFEFF;
  if (joiner) return true;
  switch (hb_unicode_general_category(hb_unicode_funcs_get_default(), c)) {
    case HB_UNICODE_GENERAL_CATEGORY_NON_SPACING_MARK:
    case HB_UNICODE_GENERAL_CATEGORY_ENCLOSING_MARK:
    case HB_UNICODE_GENERAL_CATEGORY_SPACING_MARK:
      return true;
    default:
      return false;
  }
}

}  // namespace linewright::drawing
