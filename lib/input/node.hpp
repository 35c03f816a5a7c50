// The site file as a tree of its own words, each with its place; independent of the YAML parser.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "findings/place.hpp"

namespace linewright::input {

/// One value of the file. A map keeps its keys in `keys` and their values in `items`, in order.
struct Node {
  enum class Kind { nothing, scalar, list, map };

  Kind kind = Kind::nothing;
  Place where;
  bool quoted = false;      ///< a scalar that stands in quotes or in a block of its own
  std::string text;         ///< of a scalar, as written
  std::vector<Node> keys;   ///< of a map
  std::vector<Node> items;  ///< of a list; values of a map

  bool is_nothing() const { return kind == Kind::nothing; }
  bool is_scalar() const { return kind == Kind::scalar; }
  bool is_list() const { return kind == Kind::list; }
  bool is_map() const { return kind == Kind::map; }
};

/// A scalar that the program adds, at the place of what it was derived from.
inline Node scalar(std::string text, Place where) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.where = where;
  node.text = std::move(text);
  return node;
}

/// An empty list or map.
inline Node empty_list(Place where) {
  Node node;
  node.kind = Node::Kind::list;
  node.where = where;
  return node;
}
inline Node empty_map(Place where) {
  Node node;
  node.kind = Node::Kind::map;
  node.where = where;
  return node;
}

/// Adds an entry to a map, without looking whether the key is there already.
inline void put(Node& map, Node key, Node value) {
  map.keys.push_back(std::move(key));
  map.items.push_back(std::move(value));
}

}  // namespace linewright::input
