// The few things an SVG needs written: numbers, escapes, base 64.
#pragma once

#include <string>
#include <string_view>

namespace linewright::drawing {

/// A number with at most two decimals and no needless zeros, the same under every locale.
std::string svg_number(double value);

/// Text with `& < > "` replaced, for elements and for attributes in double quotes.
std::string escape_xml(std::string_view text);

/// Bytes as base 64.
std::string base64(std::string_view bytes);

}  // namespace linewright::drawing
