// The text of the file: what may be parsed at all, and where a byte of it stands.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "findings/place.hpp"
#include "input/mistakes.hpp"

namespace linewright::input {

/// Nothing longer is read: a site of thousands of circuits is shorter, and an answer is due within
/// a second. The parser holds the tokens of a line in memory, so that lines are limited too.
inline constexpr std::size_t longest_file = 2'000'000;
inline constexpr std::size_t longest_line = 16'000;

/// The text with the starts of its lines.
class SourceText {
 public:
  explicit SourceText(std::string_view text);

  std::string_view text() const { return text_; }
  /// The place of the character at that byte of that line, both counted from 0. Quick where places
  /// are asked for from left to right.
  Place place(std::size_t line, std::size_t byte_of_line);
  /// How many characters the scalar that starts there takes on its first line.
  int length_of_scalar(std::size_t line, std::size_t byte_of_line, std::string_view value) const;
  /// True where the line, or the one before it, begins with blanks among which is a tab.
  bool is_indented_by_tab(int line) const;

 private:
  std::string_view line(std::size_t index) const;

  std::string_view text_;
  std::vector<std::size_t> starts_;
  std::size_t last_line_ = 0;
  std::size_t last_byte_ = 0;
  int last_characters_ = 0;
};

/// Names the first control character, or character that turns the direction of the text (a line
/// would read otherwise than it is); empty if there is none.
std::string unwanted_in(std::string_view text);

/// Reports text that is too long, is not UTF-8 or holds control characters; true if it may be
/// parsed.
bool is_readable(std::string_view text, Mistakes& mistakes);

/// The text without a byte order mark at its start.
std::string_view without_mark(std::string_view text);

}  // namespace linewright::input
