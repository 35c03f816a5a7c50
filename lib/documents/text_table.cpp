#include "documents/text_table.hpp"

#include <algorithm>
#include <sstream>

namespace linewright::documents {

std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::vector<std::string> broken(const std::string& text, std::size_t width) {
  std::vector<std::string> lines{""};
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    std::string& line = lines.back();
    if (line.empty())
      line = word;
    else if (characters(line) + 1 + characters(word) <= width)
      line += " " + word;
    else
      lines.push_back(word);
  }
  return lines;
}

std::string text_table(const std::vector<std::vector<std::string>>& rows, std::size_t indent) {
  std::vector<std::size_t> widths;
  for (const auto& row : rows)
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (c == widths.size()) widths.push_back(0);
      widths[c] = std::max(widths[c], characters(row[c]));
    }
  std::string text;
  for (const auto& row : rows) {
    std::string line(indent, ' ');
    for (std::size_t c = 0; c < row.size(); ++c) {
      line += row[c];
      line.append(widths[c] - characters(row[c]) + 2, ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

}  // namespace linewright::documents
