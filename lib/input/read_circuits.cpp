#include <utility>

#include <fmt/core.h>

#include "input/chains.hpp"
#include "input/circuits.hpp"
#include "input/device_line.hpp"
#include "input/fields.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

using site::none;

struct From {
  std::size_t assembly;
  PlaceName place;
};

// The device of a circuit: one line that takes the circuit's id, or a list in series.
void read_circuit_devices(Draft& draft, const Fields& fields, ChainPlan& plan) {
  const Node* node = fields.find("device");
  const Node* id = fields.find("id");
  if (node == nullptr) {
    if (id != nullptr)
      draft.mistakes.add(id->where, "'id' names the circuit's device, and there is none",
                         "add 'device:' such as 'B16 1P+N', or delete 'id'");
    return;
  }
  if (node->is_list()) {
    if (id != nullptr)
      draft.mistakes.add(id->where, "'id' beside a list of devices",
                         "write the designation before each device");
    return read_chain_items(draft, *node, plan);
  }
  std::optional<DeviceLine> device = read_device(*node, draft.mistakes);
  if (!device) return;
  if (id != nullptr) {
    if (!device->designation.empty() && device->designation != id->text)
      draft.mistakes.add(
          id->where,
          fmt::format("{} here and {} in 'device'", quote(id->text), quote(device->designation)),
          "keep one of the two");
    device->designation = text(id, draft.mistakes);
    device->where = id->where;
  }
  const std::size_t element = add_element(draft, {.designation = std::move(device->designation),
                                                  .name = std::move(device->name),
                                                  .where = device->where,
                                                  .facts = std::move(device->facts)});
  plan.items.emplace_back(element);
}

void read_circuit_cable(Draft& draft, const Node* node, ChainPlan& plan) {
  if (node == nullptr) return;
  std::optional<CableLine> cable = read_cable_node(*node, draft.mistakes);
  if (!cable) return;
  if (cable->designation.empty()) cable->designation = draft.names.next("W");
  plan.items.emplace_back(std::move(*cable));
}

void refuse_load_keys(const Fields& fields, Mistakes& to) {
  for (const std::string_view key : {"load", "use", "power factor", "start factor", "neutral from"})
    if (const Node* value = fields.find(key))
      to.add(value->where, fmt::format("'{}' on a circuit that feeds something else", key),
             "give it to the circuits of what it feeds");
}

// A circuit's own electrode stands on the protective conductor of what it feeds.
void add_own_electrode(Draft& draft, const Node* node, std::size_t load) {
  if (std::get<site::LoadGroup>(draft.site.elements[load].facts).own_electrode != true) return;
  site::Electrode facts;
  const std::string written = value_text(node, draft.mistakes).value_or("");
  if (const Result<Resistance> value = read_quantity<Resistance>(written))
    facts.resistance = *value;
  const std::size_t electrode = add_element(draft, {.designation = draft.names.next("XE"),
                                                    .name = {},
                                                    .where = node->where,
                                                    .assembly = none,
                                                    .facts = facts});
  add_run(draft,
          {.designation = {},
           .where = node->where,
           .from = {load, 0},
           .to = {electrode, 0},
           .conductors = {},
           .cable = {}},
          {.cable = {}, .chain = none, .only = site::Conductors{site::Conductor::pe}});
}

void read_circuit(Draft& draft, const Node& node, const From& from) {
  const Fields fields(node, circuit_section, draft.mistakes);
  if (!node.is_map()) return;
  ChainPlan plan;
  plan.where = node.where;
  plan.owner = from.assembly;
  plan.phase = read_phase(fields.find("phase"), draft.mistakes);
  plan.items.emplace_back(from.place);
  read_circuit_devices(draft, fields, plan);
  read_circuit_cable(draft, fields.find("cable"), plan);
  if (const Node* feeds = fields.find("feeds")) {
    refuse_load_keys(fields, draft.mistakes);
    if (const std::optional<PlaceName> name = name_of(feeds, draft.mistakes))
      plan.items.emplace_back(*name);
    draft.chains.push_back(std::move(plan));
    return;
  }
  const site::LoadGroup load = read_load(fields, draft.mistakes);
  const Node* name = fields.find("name");
  const std::size_t element =
      add_element(draft, {.designation = {},
                          .name = text(name, draft.mistakes),
                          .where = name == nullptr ? node.where : name->where,
                          .assembly = none,
                          .facts = load});
  add_own_electrode(draft, fields.find("own electrode"), element);
  plan.items.emplace_back(element);
  plan.ends_in_load = true;
  plan.neutral_from = name_of(fields.find("neutral from"), draft.mistakes);
  draft.chains.push_back(std::move(plan));
}

void read_group(Draft& draft, const Node& node, const From& from) {
  const Fields fields(node, group_section, draft.mistakes);
  const Node* line = fields.find("group");
  if (line == nullptr) return;
  const std::optional<std::size_t> device = read_chain_device(draft, *line);
  if (!device) return;
  const site::Element& element = draft.site.elements[*device];
  ChainPlan plan;
  plan.where = node.where;
  plan.owner = from.assembly;
  plan.phase = read_phase(fields.find("phase"), draft.mistakes);
  plan.items.emplace_back(from.place);
  plan.items.emplace_back(*device);
  draft.chains.push_back(std::move(plan));
  const PlaceName below{element.designation, element.where};
  read_circuits(draft, fields.find("circuits"), from.assembly, below);
}

}  // namespace

void read_circuits(Draft& draft, const Node* list, std::size_t assembly, const PlaceName& from) {
  if (list == nullptr) return;
  if (!list->is_list()) {
    draft.mistakes.add(list->where, "'circuits' is a list", "begin each circuit with '- '");
    return;
  }
  for (const Node& node : list->items) {
    if (find_key(node, "group") != nullptr)
      read_group(draft, node, {assembly, from});
    else
      read_circuit(draft, node, {assembly, from});
  }
}

}  // namespace linewright::input
