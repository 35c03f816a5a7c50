#include <utility>

#include <fmt/core.h>

#include "input/cable_line.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Conductor;
using site::Conductors;
using site::none;

constexpr Choice<bool> supplier_earths[] = {{"connected", true}, {"disconnected", false}};

void join(Draft& draft, site::Terminal from, site::Terminal to, Conductors conductors,
          Place where) {
  add_run(
      draft,
      {.designation = {}, .where = where, .from = from, .to = to, .conductors = {}, .cable = {}},
      {.cable = {}, .chain = none, .only = conductors});
}

// The board beside which the main earthing terminal is: the one named, else where the first chain
// from the supply ends, else the first one there is.
std::optional<site::Terminal> main_terminal_place(Draft& draft, const Node* node) {
  if (const std::optional<PlaceName> name = name_of(node, draft.mistakes))
    return find_place(draft, *name, End::lower);
  for (const ChainPlan& chain : draft.chains) {
    if (chain.items.size() < 2) continue;
    const auto* first = std::get_if<PlaceName>(&chain.items.front());
    const auto* last = std::get_if<PlaceName>(&chain.items.back());
    if (first != nullptr && last != nullptr && first->text == "supply")
      return find_place(draft, *last, End::lower);
  }
  for (std::size_t i = 0; i < draft.site.elements.size(); ++i)
    if (site::facts<site::Busbar>(draft.site.elements[i]) != nullptr) return site::Terminal{i, 0};
  return std::nullopt;
}

void read_electrode(Draft& draft, const Node& key, const Node& node) {
  Mistakes& to = draft.mistakes;
  site::Electrode facts;
  std::optional<site::Terminal> at = site::Terminal{draft.earth_terminal, 0};
  if (node.is_map()) {
    const Fields fields(node, electrode_section, to);
    facts.resistance = quantity<Resistance>(fields.find("resistance"), to);
    facts.type = text(fields.find("type"), to);
    facts.measured = quantity<Resistance>(fields.find("measured"), to);
    if (const std::optional<PlaceName> name = name_of(fields.find("at"), to))
      at = find_place(draft, *name, End::upper);
  } else if (!node.is_nothing()) {
    facts.resistance = quantity<Resistance>(&node, to);
  }
  const std::size_t element =
      add_element(draft, {.designation = key.text, .name = {}, .where = key.where, .facts = facts});
  if (at) join(draft, *at, {element, 0}, {Conductor::pe}, key.where);
}

std::vector<std::size_t> read_contacts(Draft& draft, const Node& node) {
  std::vector<std::size_t> contacts;
  const auto add = [&](const Node& item) {
    const std::optional<PlaceName> name = name_of(&item, draft.mistakes);
    if (!name) return;
    // A contact inside an inverter is named with its part and proved as the inverter.
    const std::string whole = name->text.substr(0, name->text.find(':'));
    const std::size_t element = find_element(draft, {whole, name->where});
    if (element != none) contacts.push_back(element);
  };
  if (node.is_list())
    for (const Node& item : node.items)
      add(item);
  else
    add(node);
  return contacts;
}

std::vector<std::string> read_names(const Node* node, Mistakes& to) {
  std::vector<std::string> names;
  if (node == nullptr) return names;
  if (!node->is_list()) return {value_text(node, to).value_or("")};
  for (const Node& item : node->items)
    names.push_back(value_text(&item, to).value_or(""));
  return names;
}

// What drives the coil of a link: a source, since the link is at rest while that stands.
std::string read_driver(Draft& draft, const Node* node) {
  const std::optional<PlaceName> name = name_of(node, draft.mistakes);
  if (!name) return {};
  const std::size_t driver = find_element(draft, *name);
  if (driver == none) return {};
  const site::Element& element = draft.site.elements[driver];
  if (site::facts<site::Inverter>(element) == nullptr &&
      site::facts<site::Generator>(element) == nullptr &&
      site::facts<site::Supply>(element) == nullptr)
    draft.mistakes.add(name->where,
                       fmt::format("{} is no source and drives no coil", quote(name->text)),
                       "name the inverter, generator or supply whose voltage holds the coil",
                       {{element.where, "it is described here"}});
  return element.designation;
}

void read_link(Draft& draft, const Node& key, const Node& node, std::size_t assembly) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, link_section, to);
  site::Bond facts;
  facts.contact = yes_no(fields.find("contact"), to).value_or(false);
  if (const Node* rest = fields.find("rest")) {
    const std::string position = value_text(rest, to).value_or("");
    if (position != "open" && position != "closed")
      to.add(rest->where, fmt::format("{} is no position of a link", quote(position)),
             "expected 'open' or 'closed'");
    facts.rest = position;
  }
  facts.closed_in = read_names(fields.find("closed in"), to);
  if (const Node* proved = fields.find("proved by"))
    facts.proved_by = read_contacts(draft, *proved);
  facts.driven_by = read_driver(draft, fields.find("driven by"));
  facts.cross_section = quantity<Area>(fields.find("size"), to);
  facts.closes_within = quantity<Time>(fields.find("closes within"), to);
  facts.power_contact = yes_no(fields.find("power contact"), to);
  read_for(fields.find("withstands"), facts.withstand, facts.withstand_time, to);
  for (const std::string_view of_contact : {"rest", "closed in", "proved by", "driven by",
                                            "power contact", "withstands", "closes within"})
    if (const Node* value = fields.find(of_contact); value != nullptr && !facts.contact)
      to.add(value->where, fmt::format("'{}' on a link without contact", of_contact),
             "add 'contact: yes' or delete this key");
  const std::optional<PlaceName> name = name_of(fields.find("at"), to);
  if (!name)
    to.add(key.where, fmt::format("link {} has no place", quote(key.text)),
           "add 'at:' with a board, a busbar or a source");
  const std::optional<site::Terminal> at =
      name ? find_place(draft, *name, End::upper) : std::nullopt;
  if (assembly == none && at) assembly = draft.site.elements[at->element].assembly;
  const std::size_t element = add_element(draft, {.designation = key.text,
                                                  .name = text(fields.find("name"), to),
                                                  .where = key.where,
                                                  .assembly = assembly,
                                                  .facts = facts});
  if (at) join(draft, *at, {element, 0}, {Conductor::n, Conductor::pe}, key.where);
}

// "bonding: {water pipe: 10 mm²}".
std::vector<site::BondingConductor> read_bonding(const Node* map, Mistakes& to) {
  std::vector<site::BondingConductor> bonding;
  if (map == nullptr) return bonding;
  if (!map->is_map()) {
    to.add(map->where, "'bonding' is a map of what is bonded",
           "expected a map such as {water pipe: 10 mm²}");
    return bonding;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i) {
    const Node& size = map->items[i];
    bonding.push_back(
        {.to = map->keys[i].text,
         .cross_section = size.is_nothing() ? std::nullopt : quantity<Area>(&size, to)});
  }
  return bonding;
}

site::MainEarthingTerminal read_terminal(const Fields& fields, Mistakes& to) {
  return {.earthing_conductor = quantity<Area>(fields.find("conductor"), to),
          .bonding = read_bonding(fields.find("bonding"), to)};
}

void read_own_earths(Draft& draft, const Node* map) {
  if (map == nullptr || !map->is_map()) return;
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i) {
    const Node* earth = find_key(map->items[i], "earth");
    if (earth == nullptr || earth->is_nothing()) continue;
    const PlaceName name{map->keys[i].text, map->keys[i].where};
    if (const std::optional<site::Terminal> at = find_place(draft, name, End::lower))
      read_own_earth(draft, earth, *at);
  }
}

// What drives or measures something may be named without its sign, as everywhere.
void sign_reference(const Draft& draft, std::string& name) {
  if (name.empty() || name.starts_with('-')) return;
  const std::string whole = "-" + name;
  if (draft.by_designation.contains(whole)) name = whole;
}

void sign_references(Draft& draft) {
  for (site::Element& element : draft.site.elements) {
    if (auto* device = std::get_if<site::Device>(&element.facts)) {
      sign_reference(draft, device->driven_by);
      // Words such as "phase watch" may stand here; what reads as a designation must be one.
      const std::string& driver = device->driven_by;
      if (is_designation(driver) || is_bare_reference(driver))
        find_element(draft, {driver, element.where});
    }
    auto* load = std::get_if<site::LoadGroup>(&element.facts);
    if (load == nullptr || !load->charging) continue;
    sign_reference(draft, load->charging->meter);
    sign_reference(draft, load->charging->vehicle);
  }
}

}  // namespace

void read_links(Draft& draft, const Node* links, std::size_t assembly) {
  if (links == nullptr) return;
  if (!links->is_map()) {
    draft.mistakes.add(links->where, "'links' is a map of designations",
                       "write '-X5: {at: A2}' lines below it");
    return;
  }
  for (std::size_t i = 0; i < links->keys.size() && i < links->items.size(); ++i)
    read_link(draft, links->keys[i], links->items[i], assembly);
}

void read_own_earth(Draft& draft, const Node* earth, site::Terminal at) {
  const std::optional<std::string> written = value_text(earth, draft.mistakes);
  if (!written) return;
  const Node line = scalar(is_cable(*written) ? *written : "1×" + *written, earth->where);
  std::optional<CableLine> cable = read_cable(line, draft.mistakes);
  if (!cable) return;
  cable->cable.written = *written;
  cable->cable.earth_cross_section = cable->cable.cross_section;
  const std::string designation =
      cable->designation.empty() ? draft.names.next("W") : cable->designation;
  add_run(draft,
          {.designation = designation,
           .where = earth->where,
           .from = {draft.earth_terminal, 0},
           .to = at,
           .conductors = {},
           .cable = cable->cable},
          {.cable = {}, .chain = none, .only = Conductors{Conductor::pe}});
}

void read_earthing(Draft& draft, const Fields& root) {
  const Node nothing;
  const Node* node = root.find("earthing");
  const Fields fields(node == nullptr ? nothing : *node, earthing_section, draft.mistakes);
  const Place where = node == nullptr ? Place{0, 0, 1} : node->where;
  draft.earth_terminal = add_element(draft, {.designation = draft.names.wanted("-XE"),
                                             .name = "Main earthing terminal",
                                             .where = where,
                                             .facts = read_terminal(fields, draft.mistakes)});
  const std::optional<bool> supplier =
      choice(fields.find("supplier earth"), supplier_earths, draft.mistakes);
  draft.supplier_earth = supplier.value_or(true);
  if (draft.supply != none && supplier == true &&
      !std::get<site::Supply>(draft.site.elements[draft.supply].facts).earth_offered)
    draft.mistakes.add(fields.find("supplier earth")->where, "this supply brings no earth",
                       "delete this key or mend the supply's 'earthing'");
  if (const auto at = main_terminal_place(draft, fields.find("main terminal"))) {
    draft.site.elements[draft.earth_terminal].assembly = draft.site.elements[at->element].assembly;
    join(draft, {draft.earth_terminal, 0}, *at, {Conductor::pe}, where);
  }
  if (const Node* electrodes = fields.find("electrodes")) {
    if (!electrodes->is_map())
      draft.mistakes.add(electrodes->where, "'electrodes' is a map of designations",
                         "expected a map such as {-XE1: 38 ohm}");
    for (std::size_t i = 0; i < electrodes->keys.size() && i < electrodes->items.size(); ++i)
      read_electrode(draft, electrodes->keys[i], electrodes->items[i]);
  }
  read_links(draft, fields.find("links"), none);
  if (const Node* assemblies = root.find("assemblies"))
    for (std::size_t i = 0; i < assemblies->keys.size() && i < assemblies->items.size(); ++i)
      if (const Node* links = find_key(assemblies->items[i], "links");
          links && !links->is_nothing())
        read_links(draft, links, find_assembly(draft, assemblies->keys[i].text));
  for (const std::string_view section : {"boards", "assemblies", "generators", "inverters"})
    read_own_earths(draft, root.find(section));
}

void read_source_references(Draft& draft, const Fields& root) {
  sign_references(draft);
  const Node* inverters = root.find("inverters");
  if (inverters == nullptr) return;
  for (std::size_t i = 0; i < inverters->keys.size() && i < inverters->items.size(); ++i) {
    const Node* contacts = find_key(inverters->items[i], "synchronises at");
    if (contacts == nullptr || contacts->is_nothing()) continue;
    const std::vector<std::size_t> found = read_contacts(draft, *contacts);
    const auto element = draft.by_designation.find(inverters->keys[i].text);
    if (element == draft.by_designation.end()) continue;
    if (auto* facts = std::get_if<site::Inverter>(&draft.site.elements[element->second].facts))
      facts->synchronises_at = found;
  }
}

}  // namespace linewright::input
