#include <algorithm>
#include <array>
#include <utility>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

using site::none;
using site::StateKind;

constexpr Choice<StateKind> kinds[] = {{"grid", StateKind::grid},
                                       {"island", StateKind::island},
                                       {"generator", StateKind::generator},
                                       {"bypass", StateKind::bypass},
                                       {"off", StateKind::off},
                                       {"other", StateKind::other}};
constexpr Choice<site::InterlockMeans> means[] = {{"mechanical", site::InterlockMeans::mechanical},
                                                  {"key", site::InterlockMeans::key},
                                                  {"electrical", site::InterlockMeans::electrical},
                                                  {"control", site::InterlockMeans::control}};

constexpr std::array<std::string_view, 2> two_positions{"open", "closed"};

// The positions that a thing can be put into; empty where it has none.
std::vector<std::string_view> positions_of(const site::Element& element, const std::string& part) {
  std::vector<std::string_view> both(two_positions.begin(), two_positions.end());
  if (const auto* inverter = site::facts<site::Inverter>(element)) {
    const bool transfer = part == "transfer" && inverter->has_backup_side;
    const bool bond = part == "bond" && inverter->bond != site::BondContact::absent;
    return transfer || bond ? both : std::vector<std::string_view>{};
  }
  if (!part.empty()) return {};
  if (const auto* bond = site::facts<site::Bond>(element))
    return bond->contact ? both : std::vector<std::string_view>{};
  const auto* device = site::facts<site::Device>(element);
  if (device == nullptr) return {};
  if (device->kind != site::DeviceKind::changeover) return both;
  std::vector<std::string_view> positions;
  for (const site::Throw& each : device->throws)
    positions.push_back(each.position);
  return positions;
}

// "-T1:bond" in its element and its part.
std::optional<site::PositionOf> thing_of(Draft& draft, const Node& key) {
  const std::size_t colon = key.text.find(':');
  const PlaceName name{key.text.substr(0, colon), key.where};
  site::PositionOf thing;
  thing.where = key.where;
  thing.element = find_element(draft, name);
  if (thing.element == none) return std::nullopt;
  if (colon != std::string::npos) thing.part = plain(key.text.substr(colon + 1));
  if (!positions_of(draft.site.elements[thing.element], thing.part).empty()) return thing;
  draft.mistakes.add(key.where, fmt::format("{} has no position of its own", quote(key.text)),
                     "name a switching device, or '-T1:transfer' or '-T1:bond'");
  return std::nullopt;
}

std::optional<site::PositionOf> position_of(Draft& draft, const Node& key, const Node& value) {
  std::optional<site::PositionOf> thing = thing_of(draft, key);
  const std::string position = value_text(&value, draft.mistakes).value_or("");
  if (!thing) return std::nullopt;
  const std::vector<std::string_view> known =
      positions_of(draft.site.elements[thing->element], thing->part);
  for (const std::string_view each : known) {
    if (plain(each) != plain(position)) continue;
    thing->position = each;
    return thing;
  }
  std::string all = "expected ";
  for (std::size_t i = 0; i < known.size(); ++i)
    all += (i == 0 ? "" : i + 1 == known.size() ? " or " : ", ") + quote(known[i]);
  draft.mistakes.add(value.where,
                     fmt::format("{} is no position of {}", quote(position), quote(key.text)), all);
  return std::nullopt;
}

bool is_source(const site::Element& element) {
  return site::facts<site::Supply>(element) != nullptr ||
         site::facts<site::Generator>(element) != nullptr ||
         site::facts<site::Inverter>(element) != nullptr;
}

std::vector<std::size_t> read_sources_list(Draft& draft, const Node& node) {
  std::vector<std::size_t> sources;
  const auto add = [&](const Node& item) {
    const std::optional<PlaceName> name = name_of(&item, draft.mistakes);
    if (!name) return;
    const std::size_t element = find_element(draft, *name);
    if (element == none) return;
    if (is_source(draft.site.elements[element]))
      sources.push_back(element);
    else
      draft.mistakes.add(item.where, fmt::format("{} is no source", quote(name->text)),
                         "name the supply, a generator or an inverter");
  };
  if (node.is_list())
    for (const Node& item : node.items)
      add(item);
  else
    add(node);
  return sources;
}

// Which sources run in a state that does not say so.
std::vector<std::size_t> usual_sources(const site::Site& site, StateKind kind) {
  std::vector<std::size_t> running;
  for (std::size_t i = 0; i < site.elements.size(); ++i) {
    const site::Element& element = site.elements[i];
    const auto* inverter = site::facts<site::Inverter>(element);
    const bool on_grid = kind == StateKind::grid || kind == StateKind::bypass;
    bool runs = false;
    if (site::facts<site::Supply>(element) != nullptr) runs = on_grid;
    if (site::facts<site::Generator>(element) != nullptr) runs = kind == StateKind::generator;
    if (inverter != nullptr) {
      const bool forms = inverter->forming == site::Forming::grid_forming;
      runs = kind == StateKind::grid || kind == StateKind::island || kind == StateKind::generator ||
             (kind == StateKind::bypass && !forms);
    }
    if (runs) running.push_back(i);
  }
  return running;
}

StateKind kind_of_name(const std::string& name) {
  for (const Choice<StateKind>& each : kinds)
    if (each.word == plain(name)) return each.value;
  return StateKind::other;
}

void read_state(Draft& draft, const Node& key, const Node& node) {
  site::State state;
  state.name = key.text;
  state.where = key.where;
  state.kind = kind_of_name(key.text);
  const Node* running = nullptr;
  if (!node.is_map() && !node.is_nothing()) {
    draft.mistakes.add(node.where, fmt::format("state {} is no map", quote(key.text)),
                       "expected positions such as {-Q1: I, -Q2: closed}");
    return;
  }
  for (std::size_t i = 0; i < node.keys.size() && i < node.items.size(); ++i) {
    const std::string word = plain(node.keys[i].text);
    if (word == "kind") {
      state.kind = choice(&node.items[i], kinds, draft.mistakes).value_or(state.kind);
    } else if (word == "running") {
      running = &node.items[i];
    } else if (auto position = position_of(draft, node.keys[i], node.items[i])) {
      state.positions.push_back(std::move(*position));
    }
  }
  state.running = running != nullptr && !running->is_nothing()
                      ? read_sources_list(draft, *running)
                      : usual_sources(draft.site, state.kind);
  draft.site.states.push_back(std::move(state));
}

void check_states_of_links(Draft& draft) {
  std::vector<std::string_view> names;
  for (const site::State& state : draft.site.states)
    names.push_back(state.name);
  for (const site::Element& element : draft.site.elements) {
    const auto* bond = site::facts<site::Bond>(element);
    if (bond == nullptr) continue;
    for (const std::string& name : bond->closed_in)
      if (std::find(names.begin(), names.end(), name) == names.end())
        draft.mistakes.add_unknown(element.where, fmt::format("there is no state {}", quote(name)),
                                   name, names, "describe it under 'states'");
  }
}

std::optional<site::PositionOf> interlocked(Draft& draft, const Node& item) {
  if (item.is_map() && item.keys.size() == 1 && item.items.size() == 1)
    return position_of(draft, item.keys[0], item.items[0]);
  if (!item.is_scalar()) {
    draft.mistakes.add(item.where, "this names no position",
                       "expected a designation, or one with its position: '-Q1: II'");
    return std::nullopt;
  }
  return position_of(draft, item, scalar("closed", item.where));
}

// Nobody can couple a lever or a key to a contact inside an inverter.
void refuse_lever_inside(Draft& draft, const site::Interlock& interlock) {
  if (interlock.means != site::InterlockMeans::mechanical &&
      interlock.means != site::InterlockMeans::key)
    return;
  for (const site::PositionOf& each : interlock.never_together)
    if (!each.part.empty())
      draft.mistakes.add(
          interlock.where,
          fmt::format("no lever and no key reaches the inner contact '{}:{}'",
                      draft.site.elements[each.element].designation, each.part),
          "interlock a switch outside it, or write 'by: electrical' or 'by: control'",
          {{draft.site.elements[each.element].where, "the contact is in here"}});
}

}  // namespace

void read_states(Draft& draft, const Fields& root) {
  const Node* node = root.find("states");
  if (node != nullptr && !node->is_map())
    draft.mistakes.add(node->where, "'states' is a map of names and positions",
                       "expected a map such as {grid: {-Q1: I}}");
  constexpr std::size_t most_states = 64;
  if (node != nullptr && node->items.size() > most_states) {
    draft.mistakes.add(node->where, fmt::format("{} states, more than 64", node->items.size()),
                       "describe the states that the site is meant to run in");
    return;
  }
  if (node != nullptr)
    for (std::size_t i = 0; i < node->keys.size() && i < node->items.size(); ++i)
      read_state(draft, node->keys[i], node->items[i]);
  check_states_of_links(draft);
}

void read_interlocks(Draft& draft, const Fields& root) {
  const Node* list = root.find("interlocks");
  if (list == nullptr) return;
  if (!list->is_list())
    draft.mistakes.add(list->where, "'interlocks' is a list", "begin each interlock with '- '");
  for (const Node& node : list->items) {
    const Fields fields(node, interlock_section, draft.mistakes);
    site::Interlock interlock;
    interlock.where = node.where;
    interlock.means =
        choice(fields.find("by"), means, draft.mistakes).value_or(site::InterlockMeans::unknown);
    const Node* together = fields.find("never together");
    if (together == nullptr || together->items.size() < 2) {
      draft.mistakes.add(together == nullptr ? node.where : together->where,
                         "an interlock of fewer than two positions",
                         "expected 'never together: [-Q2, -Q3]'");
      continue;
    }
    for (std::size_t i = 0; i < together->items.size(); ++i) {
      const bool is_map = together->is_map();
      std::optional<site::PositionOf> position =
          is_map ? position_of(draft, together->keys[i], together->items[i])
                 : interlocked(draft, together->items[i]);
      if (position) interlock.never_together.push_back(std::move(*position));
    }
    refuse_lever_inside(draft, interlock);
    draft.site.interlocks.push_back(std::move(interlock));
  }
}

void read_synchronised(Draft& draft, const Fields& root) {
  const Node* list = root.find("synchronised");
  if (list == nullptr) return;
  const auto add = [&](const Node& node) {
    site::SynchronisingSet set;
    set.where = node.where;
    if (!node.is_map()) {
      set.sources = read_sources_list(draft, node);
    } else {
      const Fields fields(node, synchronised_section, draft.mistakes);
      if (const Node* sources = fields.find("sources"))
        set.sources = read_sources_list(draft, *sources);
      else
        draft.mistakes.add(node.where, "a synchronised set without sources",
                           "expected 'sources: [-T1, -T2]'");
      set.transfer_together = yes_no(fields.find("transfer together"), draft.mistakes);
    }
    draft.site.synchronising_sets.push_back(std::move(set));
  };
  const bool is_one_set = list->is_list() && !list->items.empty() && list->items[0].is_scalar();
  if (!list->is_list() || is_one_set) return add(*list);
  for (const Node& node : list->items)
    add(node);
}

}  // namespace linewright::input
