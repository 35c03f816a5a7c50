#include "input/text_change.hpp"

#include <algorithm>

#include "findings/utf8.hpp"

namespace linewright::input {

namespace {

/// The byte behind a text in quotes that begins there.
std::size_t behind_quotes(std::string_view text, std::size_t at) {
  const char quote = text[at];
  for (++at; at < text.size() && text[at] != quote; ++at)
    if (quote == '"' && text[at] == '\\') ++at;
  return at + 1;
}

/// The byte behind the bracket that closes the one at that byte. Quotes count where a value can
/// begin, "#" where a blank is ahead of it.
std::optional<std::size_t> behind_bracket(std::string_view text, std::size_t at) {
  constexpr std::string_view blanks = " \t\r\n";
  int depth = 0;
  bool value_may_begin = true;
  while (at < text.size()) {
    const char c = text[at];
    if (c == '[' || c == '{') ++depth;
    if ((c == ']' || c == '}') && --depth == 0) return at + 1;
    if (value_may_begin && (c == '"' || c == '\'')) {
      at = behind_quotes(text, at);
      value_may_begin = false;
      continue;
    }
    if (c == '#' && at > 0 && blanks.find(text[at - 1]) != std::string_view::npos)
      at = std::min(text.find('\n', at), text.size());
    if (blanks.find(c) == std::string_view::npos)
      value_may_begin = std::string_view("[{,:").find(c) != std::string_view::npos;
    ++at;
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::vector<TextChange>> in_order(std::vector<TextChange> changes) {
  std::ranges::stable_sort(changes, {}, &TextChange::at);
  std::vector<TextChange> kept;
  for (TextChange& change : changes) {
    if (std::ranges::count(kept, change) > 0) continue;
    if (!kept.empty() && change.at < kept.back().at + kept.back().length) return std::nullopt;
    kept.push_back(std::move(change));
  }
  return kept;
}

std::string changed(std::string_view text, const std::vector<TextChange>& changes) {
  std::string result;
  std::size_t done = 0;
  for (const TextChange& change : changes) {
    result += text.substr(done, change.at - done);
    result += change.put;
    done = change.at + change.length;
  }
  result += text.substr(done);
  return result;
}

FileText::FileText(std::string_view text) : text_(text), starts_{0} {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n') starts_.push_back(i + 1);
  const std::size_t first = text.find('\n');
  if (first != std::string_view::npos && first > 0 && text[first - 1] == '\r') line_break_ = "\r\n";
}

std::size_t FileText::byte(const Place& place) const {
  return end({place.line, 1, place.column - 1});
}

std::size_t FileText::end(const Place& place) const {
  const auto line = static_cast<std::size_t>(place.line - 1);
  if (place.line < 1 || line >= starts_.size()) return text_.size();
  std::size_t at = starts_[line];
  for (int left = place.column - 1 + place.length; left > 0 && at < text_.size(); --left)
    at += findings::character_at(text_, at).bytes;
  return at;
}

std::size_t FileText::line_end(std::size_t byte) const {
  std::size_t at = std::min(text_.find('\n', byte), text_.size());
  if (at > byte && text_[at - 1] == '\r') --at;
  return at;
}

std::size_t FileText::line_start(std::size_t byte) const {
  return *(std::ranges::upper_bound(starts_, byte) - 1);
}

std::string_view FileText::ahead_on_line(std::size_t byte) const {
  const std::size_t start = line_start(byte);
  return text_.substr(start, byte - start);
}

std::optional<std::size_t> FileText::end_of(const Node& value) const {
  if (is_exact(value)) return end(value.where);
  if ((value.is_list() || value.is_map()) && in_brackets(value))
    return behind_bracket(text_, byte(value.where));
  return std::nullopt;
}

bool FileText::in_brackets(const Node& node) const {
  const std::size_t at = byte(node.where);
  return at < text_.size() && text_[at] == (node.is_map() ? '{' : '[');
}

bool FileText::is_exact(const Node& scalar) {
  const auto characters = static_cast<int>(findings::count_characters(scalar.text));
  return scalar.is_scalar() && characters > 0 &&
         scalar.where.length == characters + (scalar.quoted ? 2 : 0);
}

}  // namespace linewright::input
