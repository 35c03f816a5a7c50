#include "input/words.hpp"

#include <algorithm>
#include <cstddef>

#include "findings/utf8.hpp"

namespace linewright::input {
namespace {

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
bool is_letter(char c) {
  return is_upper(c) || (c >= 'a' && c <= 'z');
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

int characters(std::string_view text) {
  return static_cast<int>(findings::count_characters(text));
}

}  // namespace

std::vector<Word> words_of(const Node& node) {
  std::vector<Word> words;
  const std::string_view text = node.text;
  const int quote = node.quoted ? 1 : 0;
  const bool on_one_line = node.where.length == characters(text) + 2 * quote;
  int column = node.where.column + quote;
  for (std::size_t i = 0; i < text.size();) {
    while (i < text.size() && is_blank(text[i])) {
      ++i;
      ++column;
    }
    std::size_t end = i;
    while (end < text.size() && !is_blank(text[end]))
      ++end;
    if (end == i) break;
    const int length = characters(text.substr(i, end - i));
    words.push_back({std::string(text.substr(i, end - i)),
                     on_one_line ? Place{node.where.line, column, length} : node.where});
    column += length;
    i = end;
  }
  return words;
}

Place place_in(const Node& node, std::size_t first, std::size_t size) {
  const std::string_view text = node.text;
  // Escapes and folded lines move the words away from where counting would put them.
  const int quote = node.quoted ? 1 : 0;
  Place where = node.where;
  if (where.length != characters(text) + 2 * quote || first > text.size()) return where;
  where.column += quote + characters(text.substr(0, first));
  where.length = std::max(1, characters(text.substr(first, size)));
  return where;
}

bool is_designation(std::string_view word) {
  return word.size() >= 2 && (word[0] == '-' || word[0] == '+') && is_letter(word[1]);
}

bool is_bare_reference(std::string_view word) {
  std::size_t i = 0;
  while (i < word.size() && is_upper(word[i]))
    ++i;
  const std::size_t letters = i;
  while (i < word.size() && is_digit(word[i]))
    ++i;
  const bool numbered = letters > 0 && letters <= 3 && i > letters;
  return numbered && (i == word.size() || word[i] == ':');
}

bool is_sound_designation(std::string_view word) {
  return is_designation(word) && word.size() <= 40 &&
         std::all_of(word.begin() + 1, word.end(), [](char c) {
           return is_letter(c) || is_digit(c) || c == '.' || c == '-' || c == '_' || c == '+' ||
                  c == '/';
         });
}

}  // namespace linewright::input
