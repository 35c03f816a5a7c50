// Where in the tree of a file an element is described.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/node.hpp"
#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright::input {

/// A node of the tree with the way that leads to it from the root.
struct Spot {
  struct Step {
    const Node* parent;  ///< list or map
    std::size_t index;   ///< of the item
  };
  const Node* node = nullptr;
  std::vector<Step> way;  ///< from the root
  bool is_key = false;    ///< the node is the key of the last step's item, not its value

  /// The key of the item that many steps up (0: of the node itself); empty in a list.
  std::string_view key(std::size_t up = 0) const;
  const Node* parent() const { return way.empty() ? nullptr : way.back().parent; }
};

/// A device's line of words and what it stands in.
struct DeviceSpot {
  const Node* line = nullptr;  ///< scalar
  const Node* map = nullptr;   ///< its long form; none where the line stands by itself
  const Node* list = nullptr;  ///< chain that it is an item of, if it is
  std::size_t index = 0;       ///< of the item in that list
};

/// Where a device, connector, meter or surge protector is written. Fails in words where that cannot
/// be told, or where other elements share the text.
Result<DeviceSpot> device_spot(const Node& root, const site::Element& element);

/// The value that holds the keys of an element: a map, or the scalar that stands for one.
Result<const Node*> keys_spot(const Node& root, const site::Element& element);

/// An entry of a map.
struct EntrySpot {
  const Node* map = nullptr;
  std::size_t index = 0;
};

/// The entry whose key is the element's designation, as those of links are.
std::optional<EntrySpot> entry_spot(const Node& root, const site::Element& element);

/// The value of a named state; nullptr where the file doesn't describe it.
const Node* state_spot(const Node& root, const site::State& state);

}  // namespace linewright::input
