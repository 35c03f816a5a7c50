// Changes of a text by bytes, and where the places of the site file stand in it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/place.hpp"
#include "input/node.hpp"

namespace linewright::input {

/// One stretch of the text and what takes its place.
struct TextChange {
  std::size_t at = 0;      ///< byte
  std::size_t length = 0;  ///< bytes that go; 0: something is put in only
  std::string put;
  friend bool operator==(const TextChange&, const TextChange&) = default;
};

/// The changes in the order of the text, equal ones once; what is put in at the same byte keeps its
/// order. None where two of them touch the same bytes.
std::optional<std::vector<TextChange>> in_order(std::vector<TextChange> changes);

/// The text with the changes made, which are in order.
std::string changed(std::string_view text, const std::vector<TextChange>& changes);

/// The text of a site file, in which a node of its tree can be found again.
class FileText {
 public:
  explicit FileText(std::string_view text);

  std::string_view text() const { return text_; }
  /// The byte at which a place of the file begins.
  std::size_t byte(const Place& place) const;
  /// The byte behind that many characters from the place on.
  std::size_t end(const Place& place) const;
  /// The end of the line of that byte, before its line break.
  std::size_t line_end(std::size_t byte) const;
  /// The line break that the file uses.
  std::string_view line_break() const { return line_break_; }
  /// What stands between the start of its line and that byte.
  std::string_view ahead_on_line(std::size_t byte) const;
  /// True for a list or map in brackets.
  bool in_brackets(const Node& node) const;
  /// The byte behind a value: of a scalar on one line, or of a list or map in brackets; none where
  /// it cannot be told.
  std::optional<std::size_t> end_of(const Node& value) const;
  /// The start of the line of that byte.
  std::size_t line_start(std::size_t byte) const;
  /// True for a scalar that stands on one line just as it was read, so that its end is known.
  static bool is_exact(const Node& scalar);

 private:
  std::string_view text_;
  std::vector<std::size_t> starts_;
  std::string_view line_break_ = "\n";
};

}  // namespace linewright::input
