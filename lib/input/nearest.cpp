#include "input/nearest.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "input/mistakes.hpp"

namespace linewright::input {
namespace {

// Optimal string alignment: insert, delete, replace, or swap two neighbours, each at a cost of one.
std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j)
    last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replace = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, replace});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

}  // namespace

std::string plain(std::string_view words) {
  std::string text;
  for (const char c : words) {
    const bool gap = c == '-' || c == '_' || c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (gap) {
      if (!text.empty() && text.back() != ' ') text += ' ';
    } else {
      text += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  if (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

std::vector<std::string> nearest(std::string_view written,
                                 std::span<const std::string_view> known) {
  constexpr std::size_t longest = 40;  // no word of ours is longer, and comparing costs a square
  const std::string word = plain(written);
  if (word.empty() || word.size() > longest) return {};
  const std::size_t limit = std::max<std::size_t>(1, word.size() / 3);
  std::vector<std::pair<std::size_t, std::string_view>> found;
  for (const std::string_view candidate : known) {
    const std::string other = plain(candidate);
    std::size_t distance = edits(word, other);
    // A word left out or cut short is a likelier slip than its number of letters says.
    if (word.size() >= 3 && (other.starts_with(word) || word.starts_with(other + " ")))
      distance = 1;
    if (distance <= limit) found.emplace_back(distance, candidate);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> result;
  for (const auto& [distance, candidate] : found) {
    if (result.size() == 3 || distance > found.front().first + 1) break;
    result.emplace_back(candidate);
  }
  return result;
}

std::string did_you_mean(std::string_view written, std::span<const std::string_view> known,
                         std::string_view otherwise) {
  const std::vector<std::string> words = nearest(written, known);
  if (words.empty()) return std::string(otherwise);
  std::string text = "did you mean ";
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += quote(words[i]);
  }
  return text + "?";
}

}  // namespace linewright::input
