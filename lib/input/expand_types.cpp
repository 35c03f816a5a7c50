#include <cstddef>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/expand.hpp"
#include "input/fields.hpp"
#include "input/nearest.hpp"
#include "units/read.hpp"

namespace linewright::input {
namespace {

// What is copied out of types and quantities is counted, so that a small file cannot grow without
// end.
constexpr std::size_t most_copied = 50'000;
constexpr int most_alike = 500;

std::size_t size_of(const Node& node) {
  std::size_t size = 1 + node.text.size() / 64;
  for (const Node& key : node.keys)
    size += size_of(key);
  for (const Node& item : node.items)
    size += size_of(item);
  return size;
}

class TypeExpander {
 public:
  TypeExpander(Node types, Mistakes& mistakes) : types_(std::move(types)), mistakes_(mistakes) {
    if (!types_.is_map() && !types_.is_nothing())
      mistakes_.add(types_.where, "'types' is a map of names and their keys",
                    "write 'name: {key: value}' below it");
    constexpr std::size_t most_known = 500;  // a hint need not look further
    for (std::size_t i = 0; i < types_.keys.size() && i < types_.items.size(); ++i) {
      by_name_.emplace(plain(types_.keys[i].text), i);
      if (names_.size() < most_known) names_.push_back(types_.keys[i].text);
    }
  }

  /// Replaces the key that names a type by what the type says.
  void apply(Node& map, std::string_view key) {
    if (!map.is_map() || find_key(map, key) == nullptr) return;
    const Node name = take_out(map, key);
    const Node* type = find(name);
    if (type == nullptr) return;
    std::unordered_set<std::string> own;
    for (const Node& each : map.keys)
      own.insert(plain(each.text));
    for (std::size_t i = 0; i < type->keys.size() && i < type->items.size(); ++i) {
      const std::string word = plain(type->keys[i].text);
      if (word == key)
        mistakes_.add(type->keys[i].where,
                      fmt::format("type {} takes from another type", quote(name.text)),
                      "write the keys of both in one type");
      if (word == key || own.contains(word)) continue;
      if (!pays(type->items[i])) return;
      put(map, type->keys[i], type->items[i]);
    }
  }

  void each(Node* map, std::string_view key) {
    if (map == nullptr) return;
    for (Node& item : map->items)
      apply(item, key);
  }

  void circuits(Node& list) {
    if (!list.is_list()) return;
    std::vector<Node> result;
    for (Node& circuit : list.items) {
      if (Node* inner = find_key(circuit, "circuits")) circuits(*inner);
      apply(circuit, "type");
      multiply(std::move(circuit), result);
    }
    list.items = std::move(result);
  }

 private:
  const Node* find(const Node& name) {
    const auto found = by_name_.find(plain(name.text));
    if (name.is_scalar() && found != by_name_.end()) {
      const Node& type = types_.items[found->second];
      if (type.is_map()) return &type;
      mistakes_.add(types_.keys[found->second].where,
                    fmt::format("type {} is no map of keys", quote(name.text)),
                    "write its keys below it");
      return nullptr;
    }
    mistakes_.add_unknown(name.where, fmt::format("there is no type {}", quote(name.text)),
                          name.text, names_, "describe it under 'types'");
    return nullptr;
  }

  bool pays(const Node& copy) {
    copied_ += size_of(copy);
    if (copied_ <= most_copied) return true;
    mistakes_.add(copy.where, "copies of this make the site too large",
                  "use the type or the quantity less often");
    return false;
  }

  void multiply(Node circuit, std::vector<Node>& result) {
    if (!circuit.is_map() || find_key(circuit, "quantity") == nullptr) {
      result.push_back(std::move(circuit));
      return;
    }
    const Node quantity = take_out(circuit, "quantity");
    const Result<int> count = read_count(quantity.text);
    if (!count || *count < 1 || *count > most_alike) {
      mistakes_.add(quantity.where, fmt::format("{} circuits alike", quote(quantity.text)),
                    "expected a whole number from 1 to 500");
      return;
    }
    for (int number = 1; number <= *count; ++number) {
      if (!pays(circuit)) return;
      Node copy = circuit;
      if (number > 1) take_out(copy, "id");
      if (Node* name = find_key(copy, "name"); name != nullptr && name->is_scalar())
        name->text += fmt::format(" {}", number);
      result.push_back(std::move(copy));
    }
  }

  Node types_;
  Mistakes& mistakes_;
  std::unordered_map<std::string, std::size_t> by_name_;
  std::vector<std::string_view> names_;
  std::size_t copied_ = 0;
};

void expand_stores(TypeExpander& expander, Node& inverter, std::string_view key) {
  Node* stores = find_key(inverter, key);
  if (stores == nullptr) return;
  if (stores->is_list()) {
    for (Node& each : stores->items)
      expander.apply(each, "use");
  } else {
    expander.apply(*stores, "use");
  }
}

}  // namespace

void expand_types(Node& root, Mistakes& mistakes) {
  TypeExpander expander(take_out(root, "types"), mistakes);
  expander.each(find_key(root, "generators"), "use");
  expander.each(find_key(root, "inverters"), "use");
  expander.each(find_key(root, "boards"), "use");
  if (Node* inverters = find_key(root, "inverters")) {
    for (Node& inverter : inverters->items) {
      expand_stores(expander, inverter, "pv");
      expand_stores(expander, inverter, "battery");
    }
  }
  if (Node* boards = find_key(root, "boards"))
    for (Node& board : boards->items)
      if (Node* circuits = find_key(board, "circuits")) expander.circuits(*circuits);
}

}  // namespace linewright::input
