// UTF-8 in and out, and making foreign text safe to draw.
#pragma once

#include <string>
#include <string_view>

namespace linewright::drawing {

/// The characters of a UTF-8 text; each byte that is no UTF-8 becomes U+FFFD.
std::u32string decode_utf8(std::string_view text);

/// One character, or a whole text, as UTF-8.
std::string encode_utf8(char32_t character);
std::string encode_utf8(std::u32string_view text);

/// Text fit for every back end: valid UTF-8, line ends and tabs as spaces, without control
/// characters, without marks that turn the reading direction, without non-characters of XML.
std::string clean_text(std::string_view text);

/// True for a mark that sits on the character before it, and for joiners and variation selectors.
bool clings_to_previous(char32_t character);

}  // namespace linewright::drawing
