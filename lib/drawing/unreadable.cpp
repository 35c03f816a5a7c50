#include "drawing/unreadable.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "drawing/unicode.hpp"

namespace linewright::drawing {
namespace {

constexpr std::size_t most_notices = 10;

// "配 (U+914D), 電 (U+96FB)".
std::string listed(const std::u32string& characters) {
  std::string out;
  for (const char32_t c : characters)
    out += fmt::format("{}{} (U+{:04X})", out.empty() ? "" : ", ", encode_utf8(c),
                       static_cast<unsigned>(c));
  return out;
}

std::string place_of(const UnreadableText& first, std::size_t places) {
  std::string out = first.group.empty() ? "" : " of " + first.group;
  out += fmt::format(" on sheet '{}'", first.sheet);
  if (places > 1)
    out += fmt::format(" and in {} more {}", places - 1, places == 2 ? "place" : "places");
  return out;
}

}  // namespace

std::vector<std::string> unreadable_notices(const Drawing& drawing) {
  std::vector<std::string> out;
  std::vector<const UnreadableText*> texts;
  for (const UnreadableText& one : drawing.unreadable) {
    const auto same = [&](const UnreadableText* other) { return other->text == one.text; };
    if (std::none_of(texts.begin(), texts.end(), same)) texts.push_back(&one);
  }
  for (std::size_t i = 0; i < std::min(texts.size(), most_notices); ++i) {
    const auto places =
        std::count_if(drawing.unreadable.begin(), drawing.unreadable.end(),
                      [&](const UnreadableText& other) { return other.text == texts[i]->text; });
    out.push_back(fmt::format("'{}'{} cannot be read as drawn: no font has {}", texts[i]->text,
                              place_of(*texts[i], static_cast<std::size_t>(places)),
                              listed(texts[i]->missing)));
  }
  if (texts.size() > most_notices)
    out.push_back(fmt::format("and {} more texts", texts.size() - most_notices));
  if (!texts.empty()) out.emplace_back("give a font that has these characters: --font FILE");
  return out;
}

}  // namespace linewright::drawing
