// Collects the mistakes of a file, so that one reading reports them all.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"

namespace linewright::input {

/// The mistakes found so far. The same words at the same place are kept once.
class Mistakes {
 public:
  void add(Place where, std::string message, std::string mend, std::vector<Note> notes = {});

  /// Reports a word that is not known, with the nearest known ones or else with `otherwise`.
  void add_unknown(Place where, std::string message, std::string_view written,
                   std::span<const std::string_view> known, std::string_view otherwise);

  bool empty() const { return found_.empty(); }
  /// Too many to be of use to anybody: reading may stop.
  bool full() const { return found_.size() >= most; }

  /// All of them in the order of the file.
  std::vector<Mistake> sorted() const;

 private:
  static constexpr std::size_t most = 200;
  std::vector<Mistake> found_;
};

/// The user's words between quotes, shortened where they are long, control characters replaced.
std::string quote(std::string_view words);

}  // namespace linewright::input
