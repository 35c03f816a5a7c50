#include "input/draft.hpp"

#include <utility>

#include <fmt/core.h>

#include "input/device_line.hpp"
#include "input/nearest.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::none;

std::vector<std::string> terminals_of(const site::Facts& facts) {
  if (std::holds_alternative<site::Busbar>(facts)) return {"bar"};
  if (std::holds_alternative<site::MainEarthingTerminal>(facts)) return {"pe"};
  if (std::holds_alternative<site::Electrode>(facts)) return {"pe"};
  if (std::holds_alternative<site::Supply>(facts)) return {"out"};
  if (std::holds_alternative<site::Generator>(facts)) return {"out"};
  if (std::holds_alternative<site::Battery>(facts)) return {"dc"};
  if (std::holds_alternative<site::PvArray>(facts)) return {"dc"};
  if (std::holds_alternative<site::Bond>(facts)) return {"at"};
  if (std::holds_alternative<site::SurgeProtector>(facts)) return {"1"};
  if (std::holds_alternative<site::LoadGroup>(facts)) return {"in"};
  if (const auto* inverter = std::get_if<site::Inverter>(&facts))
    return inverter->has_backup_side ? std::vector<std::string>{"ac", "backup"}
                                     : std::vector<std::string>{"ac"};
  const auto* device = std::get_if<site::Device>(&facts);
  if (device == nullptr || device->kind != site::DeviceKind::changeover) return {"1", "2"};
  std::vector<std::string> terminals{"common"};
  for (const site::Throw& each : device->throws)
    if (!each.terminal.empty()) terminals.push_back(each.terminal);
  return terminals;
}

// "-Q3:I" in two parts.
std::pair<std::string, std::string> parted(const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) return {text, ""};
  return {text.substr(0, colon), text.substr(colon + 1)};
}

void report_unknown(Draft& draft, const PlaceName& name, std::string_view what) {
  if (draft.mistakes.full()) return;       // looking for near words takes time
  constexpr std::size_t most_known = 500;  // a hint need not look further
  const bool signed_name = name.text.starts_with('-') || name.text.starts_with('+');
  std::vector<std::string_view> known;
  const auto add = [&](std::string_view designation) {
    if (known.size() < most_known && !designation.empty())
      known.push_back(signed_name ? designation : designation.substr(1));
  };
  if (draft.supply_end != none && !signed_name) known.emplace_back("supply");
  for (const site::Assembly& assembly : draft.site.assemblies)
    add(assembly.designation);
  for (const site::Element& element : draft.site.elements)
    add(element.designation);
  const std::string base = parted(name.text).first;
  draft.mistakes.add(name.where, fmt::format("there is no {} {}", what, quote(name.text)),
                     did_you_mean(base, known, "name something that the file describes"));
}

std::size_t look_up(const Draft& draft, const std::string& name) {
  for (const std::string& spelling : {name, "-" + name}) {
    const auto found = draft.by_designation.find(spelling);
    if (found != draft.by_designation.end()) return found->second;
  }
  return none;
}

std::optional<site::Terminal> named_terminal(Draft& draft, const PlaceName& name,
                                             std::size_t element, const std::string& port) {
  const std::vector<std::string>& terminals = draft.site.elements[element].terminals;
  for (std::size_t i = 0; i < terminals.size(); ++i)
    if (terminals[i] == port) return site::Terminal{element, i};
  std::string all;
  for (const std::string& each : terminals)
    all += (all.empty() ? "" : ", ") + quote(draft.site.elements[element].designation + ":" + each);
  draft.mistakes.add(name.where,
                     fmt::format("{} has no terminal {}",
                                 quote(draft.site.elements[element].designation), quote(port)),
                     "it has " + all);
  return std::nullopt;
}

// A changeover named alone is its common, a two-terminal device the side that the chain comes to.
std::size_t usual_terminal(const site::Element& element, End end) {
  const bool two_sides = element.terminals.size() == 2 && element.terminals[0] == "1";
  return two_sides && end == End::upper ? 1 : 0;
}

std::optional<site::Terminal> place_of_element(Draft& draft, const PlaceName& name, End end) {
  const auto [base, port] = parted(name.text);
  const std::size_t element = look_up(draft, base);
  if (element == none) {
    report_unknown(draft, name, "place");
    return std::nullopt;
  }
  if (!port.empty()) return named_terminal(draft, name, element, port);
  return site::Terminal{element, usual_terminal(draft.site.elements[element], end)};
}

// A panel named alone is what it gives at the upper end of a chain, what it takes at the lower.
std::optional<site::Terminal> place_in_assembly(Draft& draft, const PlaceName& name,
                                                std::size_t assembly, const std::string& port,
                                                End end) {
  const auto& ports = draft.ports[assembly];
  const std::string usual = end == End::upper || !ports.contains("grid") ? "backup" : "grid";
  const auto found = ports.find(port.empty() ? usual : plain(port));
  if (found != ports.end()) return place_of_element(draft, found->second, end);
  if (port.empty() && draft.bars[assembly] != none) return site::Terminal{draft.bars[assembly], 0};
  draft.mistakes.add(name.where,
                     port.empty() ? fmt::format("{} has no one busbar to land on", quote(name.text))
                                  : fmt::format("there is no port {}", quote(name.text)),
                     ports.empty() ? "name one of its busbars or terminals"
                                   : "it has the ports 'backup' and 'grid'");
  return std::nullopt;
}

}  // namespace

std::size_t add_element(Draft& draft, NewElement element) {
  if (element.designation.empty()) {
    element.designation = draft.names.next(class_letter(element.facts));
  } else if (!is_sound_designation(element.designation) || element.designation[0] != '-') {
    draft.mistakes.add(element.where,
                       fmt::format("{} is no designation", quote(element.designation)),
                       "expected a sign and letters, such as '-Q1'");
  }
  const std::size_t index = draft.site.elements.size();
  const auto [other, is_new] = draft.by_designation.emplace(element.designation, index);
  if (!is_new)
    draft.mistakes.add(element.where,
                       fmt::format("designation {} is given twice", quote(element.designation)),
                       "give one of them another number",
                       {{draft.site.elements[other->second].where, "first given here"}});
  std::vector<std::string> terminals = terminals_of(element.facts);
  draft.site.elements.push_back({.designation = std::move(element.designation),
                                 .name = std::move(element.name),
                                 .where = element.where,
                                 .assembly = element.assembly,
                                 .facts = std::move(element.facts),
                                 .conductors = {},
                                 .terminals = std::move(terminals)});
  return index;
}

std::size_t add_run(Draft& draft, site::Run run, RunPlan plan) {
  if (!run.designation.empty()) {
    if (!is_sound_designation(run.designation) || run.designation[0] != '-')
      draft.mistakes.add(run.where, fmt::format("{} is no designation", quote(run.designation)),
                         "expected a sign and letters, such as '-W1'");
    const auto [other, is_new] = draft.cables.emplace(run.designation, run.where);
    const auto element = draft.by_designation.find(run.designation);
    const bool is_element = element != draft.by_designation.end();
    if (!is_new || is_element)
      draft.mistakes.add(run.where,
                         fmt::format("designation {} is given twice", quote(run.designation)),
                         "give one of them another number",
                         {{is_element ? draft.site.elements[element->second].where : other->second,
                           "first given here"}});
  }
  draft.site.runs.push_back(std::move(run));
  draft.run_plans.push_back(std::move(plan));
  return draft.site.runs.size() - 1;
}

std::size_t find_element(Draft& draft, const PlaceName& name) {
  if (plain(name.text) == "supply" && draft.supply != none) return draft.supply;
  const std::size_t element = look_up(draft, name.text);
  if (element == none) report_unknown(draft, name, "element");
  return element;
}

std::size_t find_assembly(const Draft& draft, std::string_view name) {
  for (const std::string& spelling : {std::string(name), "+" + std::string(name)}) {
    const auto found = draft.assembly_by_designation.find(spelling);
    if (found != draft.assembly_by_designation.end()) return found->second;
  }
  return none;
}

std::optional<site::Terminal> find_place(Draft& draft, const PlaceName& name, End end) {
  if (plain(name.text) == "supply") {
    if (draft.supply_end != none) {
      const site::Element& element = draft.site.elements[draft.supply_end];
      return site::Terminal{draft.supply_end, usual_terminal(element, End::upper)};
    }
    draft.mistakes.add(name.where, "'supply' is named, but none is described",
                       "add 'supply:' with its 'system'");
    return std::nullopt;
  }
  const auto [base, port] = parted(name.text);
  const std::size_t assembly = find_assembly(draft, base);
  if (assembly != none) return place_in_assembly(draft, name, assembly, port, end);
  return place_of_element(draft, name, end);
}

std::optional<PlaceName> name_of(const Node* node, Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  const std::optional<std::string> words = value_text(node, mistakes);
  if (!words) return std::nullopt;
  return PlaceName{*words, node->where};
}

}  // namespace linewright::input
