#include "input/words.hpp"

#include <algorithm>
#include <cstddef>

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
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

}  // namespace

std::vector<Word> words_of(const Node& node) {
  std::vector<Word> words;
  const std::string_view text = node.text;
  // Escapes and folded lines move the words away from where counting would put them.
  const int quote = node.quoted ? 1 : 0;
  const bool on_one_line = node.where.length == characters(text) + 2 * quote;
  for (std::size_t i = 0; i < text.size();) {
    while (i < text.size() && is_blank(text[i]))
      ++i;
    std::size_t end = i;
    while (end < text.size() && !is_blank(text[end]))
      ++end;
    if (end == i) break;
    Place where = node.where;
    if (on_one_line) {
      where.column += quote + characters(text.substr(0, i));
      where.length = characters(text.substr(i, end - i));
    }
    words.push_back({std::string(text.substr(i, end - i)), where});
    i = end;
  }
  return words;
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
