#include "drawing/xml.hpp"

#include <charconv>
#include <cmath>
#include <cstddef>

#include "units/ensure.hpp"

namespace linewright::drawing {

std::string svg_number(double value) {
  ENSURE(std::isfinite(value) && std::abs(value) < 1e9);
  char buffer[32];
  const char* end =
      std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed, 2).ptr;
  while (end[-1] == '0')
    --end;
  if (end[-1] == '.') --end;
  const std::string_view text(buffer, static_cast<std::size_t>(end - buffer));
  return text == "-0" ? "0" : std::string(text);
}

std::string escape_xml(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view digits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto byte = [&](std::size_t k) {
      return k < bytes.size() ? static_cast<unsigned>(static_cast<unsigned char>(bytes[k])) : 0U;
    };
    const unsigned group = (byte(i) << 16U) | (byte(i + 1) << 8U) | byte(i + 2);
    out += digits[(group >> 18U) & 63U];
    out += digits[(group >> 12U) & 63U];
    out += i + 1 < bytes.size() ? digits[(group >> 6U) & 63U] : '=';
    out += i + 2 < bytes.size() ? digits[group & 63U] : '=';
  }
  return out;
}

}  // namespace linewright::drawing
