#include "input/fields.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "units/ensure.hpp"

namespace linewright::input {

Fields::Fields(const Node& map, const Section& section, Mistakes& mistakes)
    : node_(&map), section_(&section) {
  if (map.is_nothing()) return;
  if (!map.is_map()) {
    mistakes.add(map.where, fmt::format("{} is a map of keys and values", section.name),
                 "write 'key: value' lines below it");
    return;
  }
  for (std::size_t i = 0; i < map.keys.size() && i < map.items.size(); ++i) {
    const Node& key = map.keys[i];
    if (!key.is_scalar() || key.text.empty()) continue;
    const std::string word = plain(key.text);
    const auto known = std::find(section.keys.begin(), section.keys.end(), word);
    if (known == section.keys.end()) {
      if (map.items[i].is_nothing() && key.text[0] >= '0' && key.text[0] <= '9') {
        mistakes.add(key.where, fmt::format("{} stands where a key belongs", quote(key.text)),
                     "write decimals with a point, such as '0.5 kW'");
        continue;
      }
      mistakes.add_unknown(key.where,
                           fmt::format("{} has no key {}", section.name, quote(key.text)), key.text,
                           section.keys, "see the site file's reference for its keys");
      continue;
    }
    const bool twice = std::any_of(entries_.begin(), entries_.end(),
                                   [&](const Entry& other) { return other.key == *known; });
    if (twice)  // letter for letter the same is reported by the tree
      mistakes.add(key.where, fmt::format("key {} is given twice", quote(key.text)),
                   "keep one of the two");
    else
      entries_.push_back({*known, &map.items[i]});
  }
}

const Node* Fields::find(std::string_view key) const {
  ENSURE(std::find(section_->keys.begin(), section_->keys.end(), key) != section_->keys.end());
  for (const Entry& entry : entries_)
    if (entry.key == key) return entry.value->is_nothing() ? nullptr : entry.value;
  return nullptr;
}

const Node* find_key(const Node& map, std::string_view key) {
  if (!map.is_map()) return nullptr;
  for (std::size_t i = 0; i < map.keys.size() && i < map.items.size(); ++i)
    if (plain(map.keys[i].text) == key) return &map.items[i];
  return nullptr;
}

Node* find_key(Node& map, std::string_view key) {
  if (!map.is_map()) return nullptr;
  for (std::size_t i = 0; i < map.keys.size() && i < map.items.size(); ++i)
    if (plain(map.keys[i].text) == key) return &map.items[i];
  return nullptr;
}

}  // namespace linewright::input
