#include "input/source_text.hpp"

#include <algorithm>
#include <string>

#include <fmt/core.h>

#include "findings/utf8.hpp"

namespace linewright::input {
namespace {

int characters(std::string_view text) {
  return static_cast<int>(findings::count_characters(text));
}

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte < 0x20U && c != '\n' && c != '\r' && c != '\t') || byte == 0x7FU;
}

// Turns the direction of what follows (U+202A to U+202E, U+2066 to U+2069): with it a line reads
// otherwise than it is. Words of any script need none of them.
bool turns_direction(std::string_view character) {
  if (character.size() != 3 || character[0] != '\xE2') return false;
  const auto last = static_cast<unsigned char>(character[2]);
  return (character[1] == '\x80' && last >= 0xAAU && last <= 0xAEU) ||
         (character[1] == '\x81' && last >= 0xA6U && last <= 0xA9U);
}

}  // namespace

SourceText::SourceText(std::string_view text) : text_(text), starts_{0} {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n') starts_.push_back(i + 1);
}

std::string_view SourceText::line(std::size_t index) const {
  if (index >= starts_.size()) return {};
  const std::size_t end = index + 1 < starts_.size() ? starts_[index + 1] : text_.size();
  std::string_view line = text_.substr(starts_[index], end - starts_[index]);
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r'))
    line.remove_suffix(1);
  return line;
}

Place SourceText::place(std::size_t line_index, std::size_t byte_of_line) {
  const std::string_view whole = line(line_index);
  const std::size_t end = std::min(byte_of_line, whole.size());
  if (line_index != last_line_ || end < last_byte_) {
    last_line_ = line_index;
    last_byte_ = 0;
    last_characters_ = 0;
  }
  last_characters_ += characters(whole.substr(last_byte_, end - last_byte_));
  last_byte_ = end;
  return {static_cast<int>(line_index) + 1, last_characters_ + 1, 1};
}

int SourceText::length_of_scalar(std::size_t line_index, std::size_t byte_of_line,
                                 std::string_view value) const {
  const std::string_view whole = line(line_index);
  if (byte_of_line >= whole.size()) return 1;
  const std::string_view rest = whole.substr(byte_of_line);
  if (rest.starts_with(value) && !value.empty()) return characters(value);
  if (rest.front() == '"' || rest.front() == '\'') {
    const std::size_t end = rest.find(rest.front(), 1);
    return characters(rest.substr(0, end == std::string_view::npos ? end : end + 1));
  }
  return std::max(1, characters(rest));
}

bool SourceText::is_indented_by_tab(int line_index) const {
  for (int index = std::max(0, line_index - 1); index <= line_index; ++index) {
    const std::string_view text = line(static_cast<std::size_t>(index));
    const std::size_t content = std::min(text.find_first_not_of(" \t"), text.size());
    if (text.substr(0, content).find('\t') != std::string_view::npos) return true;
  }
  return false;
}

bool is_readable(std::string_view text, Mistakes& mistakes) {
  if (text.size() > longest_file) {
    mistakes.add({1, 1, 1}, "the file is larger than 2 MB",
                 "split the installation into several files");
    return false;
  }
  Place place{1, 1, 1};
  for (std::size_t i = 0; i < text.size();) {
    const findings::Character character = findings::character_at(text, i);
    if (!character.valid) {
      mistakes.add(
          place,
          fmt::format("byte 0x{:02X} is not UTF-8 text", static_cast<unsigned char>(text[i])),
          "save the file as UTF-8");
      return false;
    }
    if (const std::string unwanted = unwanted_in(text.substr(i, character.bytes));
        !unwanted.empty()) {
      mistakes.add(place, unwanted, "delete it");
      return false;
    }
    place.column += 1;
    if (text[i] == '\n') place = {place.line + 1, 1, 1};
    if (place.column > static_cast<int>(longest_line)) {
      mistakes.add(place, "a line of more than 16 000 characters", "break it into several lines");
      return false;
    }
    i += character.bytes;
  }
  return true;
}

std::string unwanted_in(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const findings::Character character = findings::character_at(text, i);
    if (is_control(text[i]))
      return fmt::format("control character 0x{:02X} in the text",
                         static_cast<unsigned char>(text[i]));
    if (turns_direction(text.substr(i, character.bytes)))
      return "an invisible character that turns the direction of the text";
    i += std::max<std::size_t>(character.bytes, 1);
  }
  return {};
}

std::string_view without_mark(std::string_view text) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  return text.starts_with(mark) ? text.substr(mark.size()) : text;
}

}  // namespace linewright::input
