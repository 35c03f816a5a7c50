#include "findings/diff.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

#include <fmt/core.h>

namespace linewright::findings {
namespace {

using Lines = std::vector<std::string_view>;

/// Each line with its line break; the last one may have none.
Lines lines_of(std::string_view text) {
  Lines lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::size_t size = end == std::string_view::npos ? text.size() : end + 1;
    lines.push_back(text.substr(0, size));
    text.remove_prefix(size);
  }
  return lines;
}

/// Lines of the old text [from, to) that lines of the new text take the place of.
struct Hunk {
  std::size_t old_from, old_to, new_from, new_to;
};

/// A point of the edit graph: so many lines of each text are done.
struct Point {
  std::ptrdiff_t old_line, new_line;
};

// The shortest script of E. Myers, "An O(ND) Difference Algorithm and Its Variations" (1986): the
// furthest point on each diagonal for a rising number of lines that differ, kept for the way back.
class Script {
 public:
  Script(const Lines& before, const Lines& after)
      : before_(before),
        after_(after),
        most_(static_cast<std::ptrdiff_t>(before.size() + after.size())) {}

  std::vector<Hunk> hunks() {
    std::vector<std::ptrdiff_t> furthest{0, 0, 0};  // diagonals -1, 0, 1
    for (std::ptrdiff_t differ = 0; differ <= most_; ++differ) {
      std::vector<std::ptrdiff_t> next(static_cast<std::size_t>(2 * differ + 3), 0);
      rounds_.push_back(furthest);
      for (std::ptrdiff_t k = -differ; k <= differ; k += 2) {
        const Point at = slide(step(furthest, differ, k));
        next[static_cast<std::size_t>(k + differ + 1)] = at.old_line;
        if (at.old_line == size(before_) && at.new_line == size(after_)) return back(differ);
      }
      furthest = std::move(next);
    }
    return {};
  }

 private:
  static std::ptrdiff_t size(const Lines& lines) {
    return static_cast<std::ptrdiff_t>(lines.size());
  }

  /// `furthest` of the round before holds diagonals -(differ) .. +(differ).
  static std::ptrdiff_t reached(const std::vector<std::ptrdiff_t>& furthest, std::ptrdiff_t differ,
                                std::ptrdiff_t k) {
    return furthest[static_cast<std::size_t>(k + differ)];
  }

  static bool comes_down(const std::vector<std::ptrdiff_t>& furthest, std::ptrdiff_t differ,
                         std::ptrdiff_t k) {
    return k == -differ ||
           (k != differ && reached(furthest, differ, k - 1) < reached(furthest, differ, k + 1));
  }

  Point step(const std::vector<std::ptrdiff_t>& furthest, std::ptrdiff_t differ,
             std::ptrdiff_t k) const {
    if (differ == 0) return {0, 0};
    const std::ptrdiff_t line = comes_down(furthest, differ, k)
                                    ? reached(furthest, differ, k + 1)
                                    : reached(furthest, differ, k - 1) + 1;
    return {line, line - k};
  }

  Point slide(Point at) const {
    while (at.old_line < size(before_) && at.new_line < size(after_) &&
           before_[static_cast<std::size_t>(at.old_line)] ==
               after_[static_cast<std::size_t>(at.new_line)]) {
      ++at.old_line;
      ++at.new_line;
    }
    return at;
  }

  std::vector<Hunk> back(std::ptrdiff_t differ) const {
    std::vector<Hunk> found;
    Point at{size(before_), size(after_)};
    for (; differ > 0; --differ) {
      const std::ptrdiff_t k = at.old_line - at.new_line;
      const auto& furthest = rounds_[static_cast<std::size_t>(differ)];
      const bool down = comes_down(furthest, differ, k);
      const std::ptrdiff_t from = reached(furthest, differ, down ? k + 1 : k - 1);
      const Point start{from, from - (down ? k + 1 : k - 1)};
      add({static_cast<std::size_t>(start.old_line),
           static_cast<std::size_t>(start.old_line + (down ? 0 : 1)),
           static_cast<std::size_t>(start.new_line),
           static_cast<std::size_t>(start.new_line + (down ? 1 : 0))},
          found);
      at = start;
    }
    std::ranges::reverse(found);
    return found;
  }

  /// Steps come from the end; those that touch are one hunk.
  static void add(const Hunk& step, std::vector<Hunk>& found) {
    if (!found.empty() && found.back().old_from == step.old_to &&
        found.back().new_from == step.new_to) {
      found.back().old_from = step.old_from;
      found.back().new_from = step.new_from;
    } else {
      found.push_back(step);
    }
  }

  const Lines& before_;
  const Lines& after_;
  std::ptrdiff_t most_;
  std::vector<std::vector<std::ptrdiff_t>> rounds_;
};

constexpr std::size_t context = 3;

void add_lines(char mark, const Lines& lines, std::size_t from, std::size_t to, std::string& text) {
  for (std::size_t i = from; i < to; ++i) {
    text += mark;
    text += lines[i];
    if (!lines[i].ends_with('\n')) text += "\n\\ No newline at end of file\n";
  }
}

/// "12,7", or "12" for one line; an empty range names the line ahead of it.
std::string range(std::size_t from, std::size_t to) {
  if (to - from == 1) return fmt::format("{}", to);
  return fmt::format("{},{}", to == from ? from : from + 1, to - from);
}

}  // namespace

std::string unified_diff(std::string_view name, std::string_view before, std::string_view after) {
  const Lines old_lines = lines_of(before);
  const Lines new_lines = lines_of(after);
  const std::vector<Hunk> hunks = Script(old_lines, new_lines).hunks();
  if (hunks.empty()) return {};
  std::string text = fmt::format("--- {}\n+++ {}\n", name, name);
  for (std::size_t first = 0; first < hunks.size();) {
    std::size_t last = first;
    while (last + 1 < hunks.size() && hunks[last + 1].old_from - hunks[last].old_to <= 2 * context)
      ++last;
    const std::size_t lead = std::min(context, hunks[first].old_from);
    const std::size_t old_from = hunks[first].old_from - lead;
    const std::size_t old_to = std::min(old_lines.size(), hunks[last].old_to + context);
    const std::size_t new_from = hunks[first].new_from - lead;
    const std::size_t new_to = hunks[last].new_to + (old_to - hunks[last].old_to);
    text += fmt::format("@@ -{} +{} @@\n", range(old_from, old_to), range(new_from, new_to));
    std::size_t done = old_from;
    for (std::size_t i = first; i <= last; ++i) {
      add_lines(' ', old_lines, done, hunks[i].old_from, text);
      add_lines('-', old_lines, hunks[i].old_from, hunks[i].old_to, text);
      add_lines('+', new_lines, hunks[i].new_from, hunks[i].new_to, text);
      done = hunks[i].old_to;
    }
    add_lines(' ', old_lines, done, old_to, text);
    first = last + 1;
  }
  return text;
}

}  // namespace linewright::findings
