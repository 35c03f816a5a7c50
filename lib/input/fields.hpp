// A map of the file by its known keys.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/mistakes.hpp"
#include "input/node.hpp"

namespace linewright::input {

/// A kind of map in the site file and the keys that it may have. The JSON Schema holds the same
/// lists under the same names; a test compares them.
struct Section {
  std::string_view name;  ///< what messages call it, "a circuit"
  std::span<const std::string_view> keys;
};

/// The entries of one map, found by key in any spelling that `plain` makes equal.
class Fields {
 public:
  /// Reports what is not a map, unknown keys with the nearest known ones, and keys that differ only
  /// in spelling.
  Fields(const Node& map, const Section& section, Mistakes& mistakes);

  /// The value of a key; null where it is not given or has no value. The key must be the section's.
  const Node* find(std::string_view key) const;
  const Node& node() const { return *node_; }

 private:
  struct Entry {
    std::string_view key;
    const Node* value;
  };
  const Node* node_;
  const Section* section_;
  std::vector<Entry> entries_;
};

/// The value of a key in a map of any section, in any spelling; null where there is none. For
/// passes that leave the reporting of mistakes to others.
const Node* find_key(const Node& map, std::string_view key);
Node* find_key(Node& map, std::string_view key);

}  // namespace linewright::input
