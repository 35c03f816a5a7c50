// Changes of lists and maps of a site file, put where its text has them; all else stays as it is.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/node.hpp"
#include "input/text_change.hpp"
#include "units/result.hpp"

namespace linewright::input {

/// What a change answers: done, or why not, in words.
using Done = Result<void>;

/// A key and its value as they are written.
struct Entry {
  std::string key;
  std::string value;
};

/// "key: value, key: value".
std::string in_line(const std::vector<Entry>& entries);

/// Collects the changes of one text; after a failure they are of no use.
class TreeChanges {
 public:
  TreeChanges(std::string_view text, const Node& root) : text_(text), root_(root) {}

  std::vector<TextChange> take() { return std::move(changes_); }
  const FileText& text() const { return text_; }
  const Node& root() const { return root_; }

  /// That a place in the file cannot be told for sure.
  static Done untold(std::string_view what);
  /// Words in place of so many bytes.
  void put(std::size_t at, std::size_t length, std::string words);
  /// The scalar becomes a map, in which it stands under that key.
  Done wrap(const Node& node, std::string_view key, const std::vector<Entry>& entries);
  /// Gives keys of a map these values, in place of those it has, or adds them.
  Done set_in(const Node& map, const std::vector<Entry>& entries);
  /// Takes an entry out of a map, with its line if nothing else stands there.
  Done remove(const Node& map, std::size_t index);
  /// Adds an entry to a map at the top of the file, which is added where there is none.
  Done add_to_section(const std::string& section, const Entry& entry);
  /// Puts whole lines behind the last one of the file.
  Done append(const std::string& lines);
  /// Puts an item ahead of one of a list.
  Done insert_ahead(const Node& list, std::size_t index, const std::string& item);
  /// Puts an item behind the last one of a list.
  Done insert_behind(const Node& list, const std::string& item);
  /// The blanks ahead of the keys at the top of the file.
  std::string margin() const;

 private:
  /// Puts keys behind the last value whose end is known, else ahead of the first key.
  Done add_to(const Node& map, const std::vector<Entry>& entries);
  Done erase(std::size_t from, std::size_t to);

  FileText text_;
  const Node& root_;
  std::vector<TextChange> changes_;
};

}  // namespace linewright::input
