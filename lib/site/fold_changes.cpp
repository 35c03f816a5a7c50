#include "site/fold_changes.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <utility>

namespace linewright::site {
namespace {

using Key = std::pair<ChangeKind, std::string>;

bool has(const Change& change, std::string_view property) {
  return std::ranges::find(change.properties, property, &ChangedProperty::name) !=
         change.properties.end();
}

// Whether a moved device now hangs on its new board and no other.
bool hangs_on_new_board(const Change& whole, const ChangedProperty& property) {
  const auto board = std::ranges::find(whole.properties, "board", &ChangedProperty::name);
  return board != whole.properties.end() && !board->after.empty() &&
         property.after.find(" of " + board->after + ":") != std::string::npos;
}

// What follows from the whole itself: its part moves with it, and comes and goes with it.
bool follows(const Change& whole, const Change& part, const ChangedProperty& property) {
  const std::string& name = property.name;
  if (whole.kind != ChangeKind::changed)
    return name == "board" || name == "name" || name == "conductors" || name == "from" ||
           name == "to" || name == "connected to";
  if (part.thing == "joint" && hangs_on_new_board(whole, property)) return true;
  return (name == "conductors" || name == "board") && has(whole, name);
}

void add_part(const Change& part, Change& whole) {
  for (const ChangedProperty& property : part.properties)
    if (!follows(whole, part, property))
      whole.properties.push_back(
          {part.thing + " " + property.name, property.before, property.after});
  for (const std::string& drawn : part.drawn_as)
    if (std::ranges::find(whole.drawn_as, drawn) == whole.drawn_as.end())
      whole.drawn_as.push_back(drawn);
}

/// The whole as changed by nothing but its part.
Change whole_of(const Change& part) {
  Change whole = part;
  whole.thing = part.part_of_thing;
  whole.name = part.part_of;
  whole.part_of.clear();
  whole.part_of_thing.clear();
  whole.properties.clear();
  return whole;
}

}  // namespace

std::vector<Change> folded(const std::vector<Change>& changes) {
  std::vector<Change> whole;
  std::map<Key, std::size_t> by_name;
  for (const Change& change : changes) {
    if (!change.part_of.empty()) continue;
    by_name.emplace(Key{change.kind, change.name}, whole.size());
    whole.push_back(change);
  }
  for (const Change& change : changes) {
    if (change.part_of.empty()) continue;
    auto found = by_name.find({change.kind, change.part_of});
    if (found == by_name.end() && change.kind != ChangeKind::changed) {
      whole.push_back(change);
      continue;
    }
    if (found == by_name.end()) {
      found = by_name.emplace(Key{change.kind, change.part_of}, whole.size()).first;
      whole.push_back(whole_of(change));
    }
    add_part(change, whole[found->second]);
  }
  std::erase_if(whole, [](const Change& change) {
    return change.kind == ChangeKind::changed && change.properties.empty();
  });
  return whole;
}

}  // namespace linewright::site
