// Walks and changes the tree of a site file's text.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "input/node.hpp"

namespace linewright::tests {

/// The tree of a text that can be read. Fails the test if it cannot.
input::Node tree_of(const std::string& yaml);

/// The value of a key of a map; null if there is none.
input::Node* value_of(input::Node& map, std::string_view key);
const input::Node* value_of(const input::Node& map, std::string_view key);

/// Where a node stands in the tree: the index of an item, level by level.
using Path = std::vector<std::size_t>;

/// The node at a path.
input::Node& at(input::Node& root, const Path& path);

/// The path in words: "boards/+A4/circuits/2".
std::string words(const input::Node& root, const Path& path);

/// Calls `visit` for every node, the root first.
void walk(const input::Node& root,
          const std::function<void(const Path& path, const input::Node& node)>& visit);

/// A plain scalar; a map of those keys and values.
input::Node word(std::string text);
input::Node map_of(const std::vector<std::pair<std::string, std::string>>& entries);

/// Adds an entry under a key of the root that holds a map or a list, made if there is none.
void add_to_map(input::Node& root, std::string_view section, const std::string& key,
                input::Node value);
void add_to_list(input::Node& root, std::string_view section, input::Node value);

/// The text with every whole word `word` replaced: no letter or digit before or after it.
std::string replaced(const std::string& text, std::string_view word, std::string_view put);

/// Places in a text where `find` stands, as offsets.
std::vector<std::size_t> offsets(const std::string& text, std::string_view find);

/// "line 12" for an offset.
std::string line_of(const std::string& text, std::size_t offset);

}  // namespace linewright::tests
