// The lines of the user's file, and one of them shown with a mark under the place in question.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "findings/place.hpp"

namespace linewright::findings {

/// A text cut into lines. Views the text, which must outlive it.
class SourceLines {
 public:
  explicit SourceLines(std::string_view text);

  /// A line counted from 1, without its end; empty when there is no such line.
  std::string_view line(int number) const;

  bool has(int number) const;

 private:
  std::string_view text_;
  std::vector<std::size_t> starts_;
};

/// A source line and the mark under it, both ready to be printed.
struct Excerpt {
  std::string line;
  std::string mark;  ///< blanks, then ^~~~
};

/// The line at that place, cut to a window when it is very long, and the mark that underlines the
/// place: blanks as wide as what stands before, tabs kept so that both lines stay in step.
Excerpt excerpt(std::string_view line, const Place& place);

}  // namespace linewright::findings
