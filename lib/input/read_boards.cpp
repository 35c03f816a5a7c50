#include <utility>

#include <fmt/core.h>

#include "input/chains.hpp"
#include "input/circuits.hpp"
#include "input/device_line.hpp"
#include "input/nearest.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Assembly;
using site::none;

constexpr Choice<bool> materials[] = {{"insulating", true}, {"metal", false}};
constexpr Choice<Assembly::Kind> kinds[] = {{"board", Assembly::Kind::board},
                                            {"transfer panel", Assembly::Kind::transfer_panel},
                                            {"combiner", Assembly::Kind::combiner},
                                            {"converter", Assembly::Kind::converter}};

std::size_t add_assembly(Draft& draft, const Node& key, Assembly assembly) {
  if (!is_sound_designation(key.text) || key.text[0] != '+')
    draft.mistakes.add(key.where, fmt::format("{} is no designation of a board", quote(key.text)),
                       "expected a plus sign and letters, such as '+A1'");
  assembly.designation = key.text;
  assembly.where = key.where;
  const std::size_t index = draft.site.assemblies.size();
  const auto [other, is_new] = draft.assembly_by_designation.emplace(key.text, index);
  if (!is_new)
    draft.mistakes.add(key.where, fmt::format("designation {} is given twice", quote(key.text)),
                       "give one of them another number",
                       {{draft.site.assemblies[other->second].where, "first given here"}});
  draft.site.assemblies.push_back(std::move(assembly));
  draft.bars.push_back(none);
  draft.ports.emplace_back();
  return index;
}

void read_devices(Draft& draft, const Node* map, std::size_t assembly) {
  if (map == nullptr) return;
  if (!map->is_map()) {
    draft.mistakes.add(map->where, "'devices' is a map of designations",
                       "write '-Q1: switch-disconnector 63 A 4P' lines below it");
    return;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i) {
    std::optional<DeviceLine> device = read_device(map->items[i], draft.mistakes);
    if (!device) continue;
    if (!device->designation.empty() && device->designation != map->keys[i].text)
      draft.mistakes.add(device->where,
                         fmt::format("{} here and {} before the colon", quote(device->designation),
                                     quote(map->keys[i].text)),
                         "keep one of the two");
    add_element(draft, {.designation = map->keys[i].text,
                        .name = std::move(device->name),
                        .where = map->keys[i].where,
                        .assembly = assembly,
                        .facts = std::move(device->facts)});
  }
}

void read_busbars(Draft& draft, const Node* map, std::size_t assembly) {
  if (map == nullptr) return;
  if (!map->is_map()) {
    draft.mistakes.add(map->where, "'busbars' is a map of designations",
                       "write '-WB1: 63 A' lines below it");
    return;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i) {
    const Node* rating = map->items[i].is_nothing() ? nullptr : &map->items[i];
    const site::Busbar bar{quantity<Current>(rating, draft.mistakes)};
    const std::size_t element = add_element(draft, {.designation = map->keys[i].text,
                                                    .name = {},
                                                    .where = map->keys[i].where,
                                                    .assembly = assembly,
                                                    .facts = bar});
    if (assembly != none && map->keys.size() == 1) draft.bars[assembly] = element;
  }
}

void read_chains(Draft& draft, const Node* list, std::size_t assembly) {
  if (list == nullptr) return;
  if (!list->is_list()) {
    draft.mistakes.add(list->where, "'chains' is a list", "begin each chain with '- ['");
    return;
  }
  for (const Node& node : list->items) {
    ChainPlan plan = read_chain(draft, node);
    plan.owner = assembly;
    draft.chains.push_back(std::move(plan));
  }
}

void read_ports(Draft& draft, const Node* map, std::size_t assembly) {
  if (map == nullptr) return;
  if (!map->is_map()) {
    draft.mistakes.add(map->where, "'ports' is a map of names and places",
                       "expected a map such as {backup: -WB3}");
    return;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i)
    if (const std::optional<PlaceName> name = name_of(&map->items[i], draft.mistakes))
      draft.ports[assembly].emplace(plain(map->keys[i].text), *name);
}

void read_assembly(Draft& draft, const Node& key, const Node& node) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, assembly_section, to);
  Assembly assembly;
  assembly.name = text(fields.find("name"), to);
  assembly.kind = choice(fields.find("kind"), kinds, to).value_or(Assembly::Kind::combiner);
  assembly.interior = text(fields.find("ready made"), to);
  assembly.service = read_service(fields.find("service"), to);
  assembly.insulating = choice(fields.find("material"), materials, to);
  assembly.fire_risk = yes_no(fields.find("fire risk"), to);
  const std::size_t index = add_assembly(draft, key, std::move(assembly));
  read_busbars(draft, fields.find("busbars"), index);
  read_devices(draft, fields.find("devices"), index);
  read_ports(draft, fields.find("ports"), index);
  read_chains(draft, fields.find("chains"), index);
}

void read_board(Draft& draft, const Node& key, const Node& node) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, board_section, to);
  Assembly assembly;
  assembly.name = text(fields.find("name"), to);
  assembly.service = read_service(fields.find("service"), to);
  assembly.insulating = choice(fields.find("material"), materials, to);
  assembly.fire_risk = yes_no(fields.find("fire risk"), to);
  assembly.indicator = yes_no(fields.find("indicator"), to);
  const std::size_t index = add_assembly(draft, key, std::move(assembly));
  const site::Busbar bar{quantity<Current>(fields.find("busbar"), to)};
  draft.bars[index] = add_element(
      draft, {.designation = {}, .name = {}, .where = key.where, .assembly = index, .facts = bar});
  if (const Node* feed = fields.find("feed")) {
    ChainPlan plan = read_chain(draft, *feed);
    const std::optional<site::Conductor> phase = read_phase(fields.find("phase"), to);
    if (phase) plan.phase = phase;
    plan.owner = index;
    const auto* last = plan.items.empty() ? nullptr : std::get_if<PlaceName>(&plan.items.back());
    const bool ends_here = last != nullptr && find_assembly(draft, last->text) == index;
    if (!ends_here) plan.items.emplace_back(PlaceName{key.text, key.where});
    draft.chains.push_back(std::move(plan));
  }
  read_circuits(draft, fields.find("circuits"), index, PlaceName{key.text, key.where});
}

template <class Read>
void each_entry(Draft& draft, const Node* map, std::string_view name, Read read) {
  if (map == nullptr) return;
  if (!map->is_map()) {
    draft.mistakes.add(map->where, fmt::format("'{}' is a map of designations", name),
                       "write '+A1: {…}' lines below it");
    return;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i)
    if (map->keys[i].is_scalar()) read(draft, map->keys[i], map->items[i]);
}

}  // namespace

void read_assemblies(Draft& draft, const Fields& root) {
  each_entry(draft, root.find("assemblies"), "assemblies", read_assembly);
  read_busbars(draft, root.find("busbars"), none);
  read_devices(draft, root.find("devices"), none);
}

void read_boards(Draft& draft, const Fields& root) {
  each_entry(draft, root.find("boards"), "boards", read_board);
  read_chains(draft, root.find("chains"), none);
}

}  // namespace linewright::input
