#include "input/spots.hpp"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "input/fields.hpp"
#include "input/nearest.hpp"

namespace linewright::input {
namespace {

bool begins_at(const Node& node, const Place& at) {
  const int into = at.column - node.where.column;
  return node.where.line == at.line && (into == 0 || (node.quoted && into == 1));
}

// Everything in the tree that begins at a place, outer things first.
class Search {
 public:
  explicit Search(const Place& at) : at_(at) {}

  std::vector<Spot> in(const Node& root) {
    visit(root, false);
    return std::move(found_);
  }

 private:
  void visit(const Node& node, bool is_key) {
    if (!node.is_nothing() && begins_at(node, at_)) found_.push_back({&node, way_, is_key});
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      way_.push_back({&node, i});
      if (i < node.keys.size()) visit(node.keys[i], true);
      visit(node.items[i], false);
      way_.pop_back();
    }
  }

  Place at_;
  std::vector<Spot::Step> way_;
  std::vector<Spot> found_;
};

std::vector<Spot> spots_at(const Node& root, const Place& at) {
  if (!at.known()) return {};
  return Search(at).in(root);
}

int uses_of(const Node& node, const std::string& type) {
  int count = 0;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    if (i < node.keys.size() && (node.keys[i].text == "use" || node.keys[i].text == "type") &&
        node.items[i].is_scalar() && plain(node.items[i].text) == type)
      ++count;
    count += uses_of(node.items[i], type);
  }
  return count;
}

bool in_types(const Spot& spot) {
  return spot.way.size() > 1 && spot.key(spot.way.size() - 1) == "types";
}

/// The name of the type that the spot belongs to, if more than one element is described by it.
std::string shared_type(const Node& root, const Spot& spot) {
  if (!in_types(spot)) return {};
  const Spot::Step& type = spot.way[1];
  const std::string& name = type.parent->keys[type.index].text;
  return uses_of(root, plain(name)) > 1 ? name : std::string();
}

bool is_circuit(const Spot& of_map) {
  const std::size_t depth = of_map.way.size();
  return (depth > 1 && of_map.key().empty() && of_map.key(1) == "circuits") ||
         (in_types(of_map) && depth == 2);
}

/// The spot of the list or map that holds this one.
Spot outer(const Spot& spot) {
  Spot up{spot.parent(), spot.way, false};
  up.way.pop_back();
  return up;
}

/// A device's own text: a line, or a map with the key `device`.
DeviceSpot line_or_map(const Node& node) {
  if (node.is_scalar()) return {.line = &node};
  const Node* line = find_key(node, "device");
  if (line == nullptr || !line->is_scalar()) return {};
  return {.line = line, .map = &node};
}

DeviceSpot circuit_device(const Node& circuit) {
  const Node* device = find_key(circuit, "device");
  return device == nullptr ? DeviceSpot{} : line_or_map(*device);
}

constexpr std::array<std::string_view, 6> keys_of_lines{"device", "group", "changeover",
                                                        "bypass", "inlet", "fuse"};

bool under_line_key(const Spot& spot) {
  return std::ranges::count(keys_of_lines, spot.key()) > 0;
}

DeviceSpot item_of_chain(const Spot& spot) {
  DeviceSpot found = line_or_map(*spot.node);
  found.list = spot.parent();
  found.index = spot.way.back().index;
  return found;
}

DeviceSpot device_at(const Spot& spot) {
  if (spot.way.empty()) return {};
  if (spot.is_key)
    return spot.key(1) == "devices" ? line_or_map(spot.parent()->items[spot.way.back().index])
                                    : DeviceSpot{};
  if (spot.node->is_map() && is_circuit(spot)) return circuit_device(*spot.node);
  if (spot.key() == "id" && is_circuit(outer(spot))) return circuit_device(*spot.parent());
  if (spot.key() == "id") return line_or_map(*spot.parent());
  if (spot.parent()->is_list() && spot.key(1) != "circuits") return item_of_chain(spot);
  if (!under_line_key(spot)) return {};
  const Spot map = outer(spot);
  const bool long_form = spot.key() == "device" && !is_circuit(map);
  return long_form ? line_or_map(*spot.parent()) : line_or_map(*spot.node);
}

bool has_own_key(const site::Element& element) {
  return std::holds_alternative<site::Generator>(element.facts) ||
         std::holds_alternative<site::Inverter>(element.facts) ||
         std::holds_alternative<site::Bond>(element.facts) ||
         std::holds_alternative<site::Electrode>(element.facts) ||
         std::holds_alternative<site::Busbar>(element.facts);
}

const Node* keys_at(const Spot& spot, const site::Element& element) {
  if (spot.way.empty()) return nullptr;
  if (has_own_key(element))
    return spot.is_key ? &spot.parent()->items[spot.way.back().index] : nullptr;
  if (spot.is_key) return nullptr;
  if (std::holds_alternative<site::LoadGroup>(element.facts)) {
    if (spot.node->is_map() && is_circuit(spot)) return spot.node;
    return spot.key() == "name" && is_circuit(outer(spot)) ? spot.parent() : nullptr;
  }
  return spot.node->is_map() ? spot.node : nullptr;
}

Failure not_told(const site::Element& element) {
  return {fmt::format("where '{}' is described cannot be told for sure", element.designation)};
}

Failure is_shared(const site::Element& element, const std::string& type) {
  return {
      fmt::format("'{}' is described by type '{}', which others share", element.designation, type)};
}

}  // namespace

std::string_view Spot::key(std::size_t up) const {
  if (up >= way.size()) return {};
  const Step& step = way[way.size() - 1 - up];
  return step.parent->is_map() ? std::string_view(step.parent->keys[step.index].text)
                               : std::string_view();
}

Result<DeviceSpot> device_spot(const Node& root, const site::Element& element) {
  for (const Spot& spot : spots_at(root, element.where)) {
    const DeviceSpot found = device_at(spot);
    if (found.line == nullptr) continue;
    if (const std::string type = shared_type(root, spot); !type.empty())
      return tl::unexpected(is_shared(element, type));
    return found;
  }
  return tl::unexpected(not_told(element));
}

Result<const Node*> keys_spot(const Node& root, const site::Element& element) {
  for (const Spot& spot : spots_at(root, element.where)) {
    const Node* found = keys_at(spot, element);
    if (found == nullptr || found->is_nothing()) continue;
    if (const std::string type = shared_type(root, spot); !type.empty())
      return tl::unexpected(is_shared(element, type));
    return found;
  }
  return tl::unexpected(not_told(element));
}

std::optional<EntrySpot> entry_spot(const Node& root, const site::Element& element) {
  for (const Spot& spot : spots_at(root, element.where))
    if (spot.is_key && spot.node->text == element.designation)
      return EntrySpot{spot.parent(), spot.way.back().index};
  return std::nullopt;
}

const Node* state_spot(const Node& root, const site::State& state) {
  for (const Spot& spot : spots_at(root, state.where))
    if (spot.is_key && spot.key(1) == "states" && spot.way.size() == 2)
      return &spot.parent()->items[spot.way.back().index];
  return nullptr;
}

}  // namespace linewright::input
