#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "input/chains.hpp"
#include "input/sections.hpp"
#include "input/store_parts.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

// Joins the store's terminal to the inverter's through what its `chain` lists.
void plan_chain(Draft& draft, const Node* list, std::size_t store, std::size_t inverter,
                const std::string& terminal) {
  site::Element& element = draft.site.elements[inverter];
  if (std::find(element.terminals.begin(), element.terminals.end(), terminal) ==
      element.terminals.end())
    element.terminals.push_back(terminal);
  const site::Element& from = draft.site.elements[store];
  ChainPlan plan;
  plan.where = from.where;
  plan.items.emplace_back(PlaceName{from.designation, from.where});
  const std::string end = element.designation + ":" + terminal;
  const Place end_where = from.where;
  if (list != nullptr) read_chain_items(draft, *list, plan);
  plan.items.emplace_back(PlaceName{end, end_where});
  draft.chains.push_back(std::move(plan));
}

void check_share(const Node* node, std::optional<double> value, double low, double high,
                 std::string_view expected, Mistakes& to) {
  if (!value || (*value >= low && *value <= high)) return;
  to.add(node->where, fmt::format("{} is outside what can be", quote(node->text)),
         fmt::format("expected {}", expected));
}

// "-0.27 %/K" or "-0.0027": relative change of the voltage for each kelvin.
std::optional<double> voltage_factor(const Node* node, Mistakes& to) {
  std::optional<std::string> written = value_text(node, to);
  if (!written) return std::nullopt;
  double scale = 1.0;
  for (const auto& [unit, size] : {std::pair{"%/K", 0.01}, std::pair{"% / K", 0.01}}) {
    if (!written->ends_with(unit)) continue;
    written->resize(written->size() - std::string_view(unit).size());
    scale = size;
  }
  const Node plain_number = scalar(*written, node->where);
  std::optional<double> value = number(&plain_number, to);
  if (value) *value *= scale;
  check_share(node, value, -0.02, 0.0, "a fall with temperature such as '-0.27 %/K'", to);
  return value;
}

void read_one_pv(Draft& draft, const Node& node, std::size_t inverter) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, pv_section, to);
  if (!node.is_map()) return;
  site::PvArray facts;
  facts.model = text(fields.find("model"), to);
  facts.strings = count(fields.find("strings"), to);
  facts.modules_per_string = count(fields.find("modules"), to);
  facts.power = quantity<ActivePower>(fields.find("power"), to);
  facts.module_open_voltage = quantity<Voltage>(fields.find("open voltage"), to);
  facts.module_short_current = quantity<Current>(fields.find("short circuit current"), to);
  facts.voltage_factor = voltage_factor(fields.find("voltage factor"), to);
  facts.module_fuse_max = quantity<Current>(fields.find("module fuse"), to);
  facts.coldest = quantity<Celsius>(fields.find("coldest"), to);
  const std::size_t element = add_element(draft, {.designation = text(fields.find("id"), to),
                                                  .name = text(fields.find("name"), to),
                                                  .where = node.where,
                                                  .facts = facts});
  plan_chain(draft, fields.find("chain"), element, inverter, "pv");
}

void read_battery_voltage(const Node* node, site::Battery& facts, Mistakes& to) {
  const Range<Voltage> window = range<Voltage>(node, to);
  if (!window.low) {
    facts.nominal_voltage = window.high;
    return;
  }
  facts.voltage_min = window.low;
  facts.voltage_max = window.high;
}

void read_one_battery(Draft& draft, const Node& node, std::size_t inverter) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, battery_section, to);
  if (!node.is_map()) return;
  site::Battery facts;
  facts.model = text(fields.find("model"), to);
  facts.units = count(fields.find("units"), to);
  facts.energy = quantity<Energy>(fields.find("energy"), to);
  read_battery_voltage(fields.find("voltage"), facts, to);
  facts.discharge_current = quantity<Current>(fields.find("discharge current"), to);
  facts.charge_current = quantity<Current>(fields.find("charge current"), to);
  facts.fault_current = quantity<Current>(fields.find("fault current"), to);
  facts.chemistry = text(fields.find("chemistry"), to);
  facts.usable = share(fields.find("usable"), to);
  const std::size_t element = add_element(draft, {.designation = text(fields.find("id"), to),
                                                  .name = text(fields.find("name"), to),
                                                  .where = node.where,
                                                  .facts = facts});
  plan_chain(draft, fields.find("chain"), element, inverter, "battery");
}

template <class Read>
void each_store(Draft& draft, const Node* node, std::size_t inverter, Read read) {
  if (node == nullptr) return;
  if (!node->is_list()) return read(draft, *node, inverter);
  for (const Node& each : node->items)
    read(draft, each, inverter);
}

}  // namespace

void read_pv(Draft& draft, const Node* node, std::size_t inverter) {
  each_store(draft, node, inverter, read_one_pv);
}

void read_batteries(Draft& draft, const Node* node, std::size_t inverter) {
  each_store(draft, node, inverter, read_one_battery);
}

std::string rcd_type_word(const Node* node, Mistakes& mistakes) {
  constexpr Choice<const char*> types[] = {{"AC", "AC"}, {"A", "A"}, {"F", "F"}, {"B", "B"}};
  const std::optional<const char*> type = choice(node, types, mistakes);
  return type ? *type : "";
}

}  // namespace linewright::input
