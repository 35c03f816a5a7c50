#include <string>
#include <utility>

#include "input/cable_line.hpp"
#include "input/device_line.hpp"
#include "input/expand.hpp"
#include "input/fields.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

bool has_designation(const Node& line) {
  const std::vector<Word> words = words_of(line);
  return !words.empty() && is_designation(words.front().text);
}

void put_id(Node& map, std::string designation) {
  map.keys.insert(map.keys.begin(), scalar("id", map.where));
  map.items.insert(map.items.begin(), scalar(std::move(designation), map.where));
}

// The line becomes a map, so that its words keep their places.
void name_line(Node& line, std::string_view key, std::string designation) {
  const Place where = line.where;
  Node map = empty_map(where);
  put_id(map, std::move(designation));
  put(map, scalar(std::string(key), where), std::move(line));
  line = std::move(map);
}

void name_cable(Node& cable, Names& names) {
  if (cable.is_scalar() && is_cable(cable.text) && !has_designation(cable))
    name_line(cable, "cable", names.next("W"));
}

void name_device(Node& device, Names& names) {
  Mistakes unheard;  // they are reported when the line is read for good
  const bool unnamed_map = device.is_map() && find_key(device, "id") == nullptr &&
                           find_key(device, "device") != nullptr &&
                           !has_designation(*find_key(device, "device"));
  const bool unnamed_line = device.is_scalar() && !has_designation(device);
  if (!unnamed_map && !unnamed_line) return;
  const std::optional<DeviceLine> read = read_device(device, unheard);
  if (!read) return;
  std::string designation = names.next(class_letter(read->facts));
  if (unnamed_map)
    put_id(device, std::move(designation));
  else
    name_line(device, "device", std::move(designation));
}

// A word alone in a chain is the name of something that stands elsewhere, unless it is a rating.
bool is_place(const Node& item) {
  if (!item.is_scalar()) return false;
  const std::vector<Word> words = words_of(item);
  if (words.size() != 1) return false;
  Mistakes unheard;
  return is_designation(words[0].text) || words[0].text == "supply" ||
         !read_device(item, unheard).has_value();
}

void name_chain_item(Node& item, Names& names) {
  if (is_place(item)) return;
  if (item.is_scalar() && is_cable(item.text))
    name_cable(item, names);
  else
    name_device(item, names);
}

void name_chain(Node& chain, Names& names) {
  if (Node* inner = find_key(chain, "chain")) return name_chain(*inner, names);
  if (!chain.is_list()) return;
  for (Node& item : chain.items)
    name_chain_item(item, names);
}

void name_chains(Node* chains, Names& names) {
  if (chains == nullptr || !chains->is_list()) return;
  for (Node& chain : chains->items)
    name_chain(chain, names);
}

void name_circuits(Node* circuits, Names& names) {
  if (circuits == nullptr || !circuits->is_list()) return;
  for (Node& circuit : circuits->items) {
    if (Node* group = find_key(circuit, "group")) name_device(*group, names);
    if (Node* device = find_key(circuit, "device")) {
      if (device->is_list()) {
        name_chain(*device, names);
      } else if (find_key(circuit, "id") == nullptr && device->is_scalar() &&
                 !has_designation(*device)) {
        Mistakes unheard;
        if (const auto read = read_device(*device, unheard))
          put_id(circuit, names.next(class_letter(read->facts)));
      } else if (find_key(circuit, "id") == nullptr) {
        name_device(*device, names);
      }
    }
    if (Node* cable = find_key(circuit, "cable")) name_cable(*cable, names);
    name_circuits(find_key(circuit, "circuits"), names);
  }
}

void name_stores(Node& inverter, std::string_view key, std::string_view letter, Names& names) {
  Node* stores = find_key(inverter, key);
  if (stores == nullptr) return;
  const auto name_one = [&](Node& store) {
    if (!store.is_map()) return;
    if (find_key(store, "id") == nullptr) put_id(store, names.next(letter));
    if (Node* chain = find_key(store, "chain")) name_chain(*chain, names);
  };
  if (stores->is_list())
    for (Node& store : stores->items)
      name_one(store);
  else
    name_one(*stores);
}

}  // namespace

void expand_names(Node& root, Names& names) {
  if (Node* inverters = find_key(root, "inverters"))
    for (Node& inverter : inverters->items) {
      name_stores(inverter, "pv", "GC", names);
      name_stores(inverter, "battery", "GB", names);
    }
  if (Node* assemblies = find_key(root, "assemblies"))
    for (Node& assembly : assemblies->items)
      name_chains(find_key(assembly, "chains"), names);
  if (Node* boards = find_key(root, "boards"))
    for (Node& board : boards->items) {
      if (Node* feed = find_key(board, "feed")) name_chain(*feed, names);
      name_circuits(find_key(board, "circuits"), names);
    }
  name_chains(find_key(root, "chains"), names);
}

}  // namespace linewright::input
