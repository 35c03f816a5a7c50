#include "findings/source_lines.hpp"

#include <algorithm>

#include "findings/utf8.hpp"

namespace linewright::findings {

SourceLines::SourceLines(std::string_view text) : text_(text), starts_{0} {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') starts_.push_back(i + 1);
  }
}

bool SourceLines::has(int number) const {
  return number >= 1 && static_cast<std::size_t>(number) <= starts_.size();
}

std::string_view SourceLines::line(int number) const {
  if (!has(number)) return {};
  const std::size_t start = starts_[static_cast<std::size_t>(number) - 1];
  std::string_view line = text_.substr(start, text_.find('\n', start) - start);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

namespace {

constexpr int longest_line = 160;
constexpr int kept_before_mark = 60;

/// Blanks as wide as the character; a tab for a tab.
std::string blank_for(char32_t code) {
  if (code == U'\t') return "\t";
  return std::string(static_cast<std::size_t>(width_of(code)), ' ');
}

}  // namespace

Excerpt excerpt(std::string_view line, const Place& place) {
  const std::string shown = shown_safely(line);
  const int count = static_cast<int>(count_characters(shown));
  // A place may lie one past the end of its line (something is missing there), but no further.
  const int column = std::clamp(place.column, 1, count + 1);
  const int first = count > longest_line ? std::max(1, column - kept_before_mark) : 1;
  const int last = std::min(count, first + longest_line - 1);
  const int marked_to = std::min(column + std::max(place.length, 1) - 1, std::max(last, column));

  Excerpt out;
  if (first > 1) {
    out.line = "…";
    out.mark = " ";
  }
  std::size_t byte = 0;
  for (int at = 1; at <= std::max(last, marked_to); ++at) {
    Character character{U' ', 0, true};
    if (byte < shown.size()) character = character_at(shown, byte);
    if (at >= first) {
      out.line += std::string_view(shown).substr(byte, character.bytes);
      if (at < column) out.mark += blank_for(character.code);
      const int width = std::max(1, width_of(character.code));
      if (at == column) out.mark += "^" + std::string(static_cast<std::size_t>(width) - 1, '~');
      if (at > column && at <= marked_to)
        out.mark += std::string(static_cast<std::size_t>(width), '~');
    }
    byte += character.bytes;
  }
  if (last < count) out.line += "…";
  return out;
}

}  // namespace linewright::findings
