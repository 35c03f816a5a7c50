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

}  // namespace

double widest(const Metrics& metrics, const std::vector<std::string>& lines) {
  double width = 0.0;
  for (const std::string& line : lines)
    width = std::max(width, metrics.text_width(line, text_height, Weight::regular));
  return width;
}

std::vector<std::string> wrapped(const Metrics& metrics, const std::string& text, double width,
                                 Weight weight) {
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  bool glued = true;
  while (at < text.size()) {
    const std::size_t end = next_break(text, at + 1);
    const bool hyphen = end < text.size() && text[end] == '-';
    const std::string word = text.substr(at, end - at + (hyphen ? 1 : 0));
    std::string longer = line;
    if (!glued) longer += ' ';
    longer += word;
    if (!line.empty() && metrics.text_width(longer, text_height, weight) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    glued = hyphen;
    at = end + 1;
  }
  if (!line.empty() || lines.empty()) lines.push_back(line);
  return lines;
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
