#include "input/expand.hpp"

#include <utility>

#include "input/fields.hpp"
#include "input/nearest.hpp"

namespace linewright::input {
namespace {

// A site of which no state is described has one: on its supply, everything at rest.
void add_usual_state(Node& root) {
  const Node* states = find_key(root, "states");
  if (states != nullptr && !states->is_nothing()) return;
  if (find_key(root, "supply") == nullptr) return;
  take_out(root, "states");
  const Place nowhere{0, 0, 1};
  Node all = empty_map(nowhere);
  Node grid = empty_map(nowhere);
  put(grid, scalar("kind", nowhere), scalar("grid", nowhere));
  put(all, scalar("grid", nowhere), std::move(grid));
  put(root, scalar("states", nowhere), std::move(all));
}

}  // namespace

void expand(Node& root, Names& names, Mistakes& mistakes) {
  if (!root.is_map()) return;
  expand_types(root, mistakes);
  names.take_all(root);
  expand_panel(root, names, mistakes);
  add_usual_state(root);
  expand_names(root, names);
}

Node take_out(Node& map, std::string_view key) {
  for (std::size_t i = 0; i < map.keys.size() && i < map.items.size(); ++i) {
    if (plain(map.keys[i].text) != key) continue;
    Node value = std::move(map.items[i]);
    map.keys.erase(map.keys.begin() + static_cast<std::ptrdiff_t>(i));
    map.items.erase(map.items.begin() + static_cast<std::ptrdiff_t>(i));
    return value;
  }
  return {};
}

Node& map_under(Node& map, std::string_view key) {
  Node* value = find_key(map, key);
  if (value == nullptr) {
    put(map, scalar(std::string(key), map.where), empty_map(map.where));
    value = &map.items.back();
  } else if (value->is_nothing()) {
    *value = empty_map(value->where);
  }
  return *value;
}

}  // namespace linewright::input
