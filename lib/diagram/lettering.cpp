#include "diagram/lettering.hpp"

#include <algorithm>

namespace linewright::diagram {
namespace {

// A line may end at a space, and after a hyphen inside a word: not in "TN-C-S" nor before "-Q1".
std::size_t next_break(const std::string& text, std::size_t from) {
  for (std::size_t at = from; at < text.size(); ++at) {
    if (text[at] == ' ') return at;
    const bool word_follows = at + 1 < text.size() && text[at + 1] >= 'a' && text[at + 1] <= 'z';
    if (text[at] == '-' && word_follows) return at;
  }
  return text.size();
}

/// Where a word begins and ends; one that a hyphen ends keeps it.
struct Word {
  std::size_t begin = 0;
  std::size_t end = 0;
};

std::vector<Word> words_of(const std::string& text) {
  std::vector<Word> words;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = next_break(text, at + 1);
    const bool hyphen = end < text.size() && text[end] == '-';
    words.push_back({at, hyphen ? end + 1 : end});
    at = end + 1;
  }
  return words;
}

std::string line_of(const std::string& text, const Word& first, const Word& last) {
  return text.substr(first.begin, last.end - first.begin);
}

/// The last word of a line that begins with `first` and has so many letters at most.
std::size_t last_within(const std::vector<Word>& words, std::size_t first, double letters) {
  std::size_t last = first;
  while (last + 1 < words.size() &&
         static_cast<double>(words[last + 1].end - words[first].begin) <= letters)
    ++last;
  return last;
}

}  // namespace

double widest(const Metrics& metrics, const std::vector<std::string>& lines) {
  double width = 0.0;
  for (const std::string& line : lines)
    width = std::max(width, metrics.text_width(line, text_height, Weight::regular));
  return width;
}

std::vector<std::string> wrapped(const Metrics& metrics, const std::string& text, double width,
                                 Weight weight) {
  const auto width_of = [&](const std::string& line) {
    return metrics.text_width(line, text_height, weight);
  };
  const double whole = width_of(text);
  if (whole <= width) return {text};
  // Measuring is what costs: a line begins with as many words as it would hold if all letters were
  // of one width, and gives or takes the few that it has to.
  const double letters = width / whole * static_cast<double>(text.size());
  const std::vector<Word> words = words_of(text);
  std::vector<std::string> lines;
  for (std::size_t first = 0; first < words.size();) {
    const auto fits = [&](std::size_t last) {
      return width_of(line_of(text, words[first], words[last])) <= width;
    };
    std::size_t last = last_within(words, first, letters);
    while (last > first && !fits(last))
      --last;
    while (last + 1 < words.size() && fits(last + 1))
      ++last;
    lines.push_back(line_of(text, words[first], words[last]));
    first = last + 1;
  }
  return lines.empty() ? std::vector<std::string>{text} : lines;
}

std::vector<std::string> name_lines(const Metrics& metrics, const std::string& name) {
  constexpr double room = 20.0;
  if (metrics.text_width(name, text_height, Weight::regular) <= room) return {name};
  std::size_t best = std::string::npos;
  const auto off = [&](std::size_t at) {
    return at > name.size() / 2 ? at - name.size() / 2 : name.size() / 2 - at;
  };
  for (std::size_t i = 0; i < name.size(); ++i)
    if (name[i] == ' ' && (best == std::string::npos || off(i) < off(best))) best = i;
  if (best == std::string::npos) return {name};
  return {name.substr(0, best), name.substr(best + 1)};
}

}  // namespace linewright::diagram
