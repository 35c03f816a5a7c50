#include "seeded/wiring.hpp"

#include <algorithm>
#include <utility>

namespace linewright::tests {

using site::Conductor;
using site::Site;

const std::string& name(const Site& site, std::size_t element) {
  return site.elements[element].designation;
}

bool on_ac_side(const Site& site, std::size_t element) {
  const site::Element& it = site.elements[element];
  return site::facts<site::Device>(it) != nullptr && it.name != "Service fuse" &&
         (it.conductors & site::direct_current).empty();
}

bool two_ended(const Site& site, std::size_t element) {
  const auto* device = site::facts<site::Device>(site.elements[element]);
  return device != nullptr && device->kind != site::DeviceKind::changeover;
}

bool is_moved(const Site& site, std::size_t element) {
  const auto names_it = [&](const std::vector<site::PositionOf>& list) {
    return std::ranges::any_of(list, [&](const auto& p) { return p.element == element; });
  };
  return std::ranges::any_of(site.states, [&](const auto& s) { return names_it(s.positions); }) ||
         std::ranges::any_of(site.interlocks,
                             [&](const auto& i) { return names_it(i.never_together); });
}

namespace {

/// Terminals reached from one over runs with one of these conductors and through elements; an
/// element in `closed_to` is not passed.
std::vector<std::vector<bool>> reached(const Site& site, site::Terminal from, site::Conductors over,
                                       std::size_t closed_to) {
  std::vector<std::vector<bool>> seen;
  for (const site::Element& element : site.elements)
    seen.emplace_back(element.terminals.size(), false);
  std::vector<site::Terminal> todo{from};
  while (!todo.empty()) {
    const site::Terminal at = todo.back();
    todo.pop_back();
    if (seen[at.element][at.terminal]) continue;
    seen[at.element][at.terminal] = true;
    for (const site::Run& run : site.runs) {
      if ((run.conductors & over).empty()) continue;
      if (run.from == at) todo.push_back(run.to);
      if (run.to == at) todo.push_back(run.from);
    }
    if (at.element == closed_to) continue;
    for (std::size_t t = 0; t < seen[at.element].size(); ++t)
      todo.push_back({at.element, t});
  }
  return seen;
}

}  // namespace

bool parts_supply_from_forming(const Site& site, std::size_t element) {
  std::vector<bool> supply;
  std::vector<bool> forming;
  for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t) {
    const auto seen = reached(site, {element, t}, site::line_and_neutral, element);
    supply.push_back(false);
    forming.push_back(false);
    for (std::size_t e = 0; e < seen.size(); ++e) {
      if (std::ranges::count(seen[e], true) == 0) continue;
      supply.back() = supply.back() || site::facts<site::Supply>(site.elements[e]) != nullptr;
      const auto* inverter = site::facts<site::Inverter>(site.elements[e]);
      forming.back() = forming.back() ||
                       (inverter != nullptr && inverter->forming == site::Forming::grid_forming);
    }
  }
  for (std::size_t a = 0; a < supply.size(); ++a)
    for (std::size_t b = 0; b < supply.size(); ++b)
      if (supply[a] && forming[b] && !supply[b]) return true;
  return false;
}

bool between_sources(const Site& site, std::size_t element) {
  for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t) {
    const auto seen = reached(site, {element, t}, site::line_and_neutral, element);
    bool source = false;
    for (std::size_t e = 0; e < seen.size(); ++e) {
      const site::Facts& facts = site.elements[e].facts;
      const bool is_source = std::holds_alternative<site::Supply>(facts) ||
                             std::holds_alternative<site::Generator>(facts) ||
                             std::holds_alternative<site::Inverter>(facts);
      source = source || (is_source && std::ranges::count(seen[e], true) > 0);
    }
    if (!source) return false;
  }
  return true;
}

std::vector<std::size_t> loads_behind(const Site& site, std::size_t device) {
  const auto seen = reached(site, {device, 1}, site::line_and_neutral, device);
  std::vector<std::size_t> behind;
  for (const std::size_t load : loads(site))
    if (std::ranges::count(seen[load], true) > 0) behind.push_back(load);
  return behind;
}

std::optional<site::Service> service_of(const Site& site, std::size_t load) {
  const auto& facts = std::get<site::LoadGroup>(site.elements[load].facts);
  if (facts.service) return facts.service;
  const std::size_t board = site.elements[load].assembly;
  return board == site::none ? std::nullopt : site.assemblies[board].service;
}

bool names(const site::Interlock& interlock, std::size_t element) {
  return std::ranges::any_of(interlock.never_together,
                             [&](const auto& p) { return p.element == element; });
}

namespace {

bool by_construction(const site::Interlock& interlock) {
  return interlock.means == site::InterlockMeans::mechanical ||
         interlock.means == site::InterlockMeans::key;
}

}  // namespace

bool stands_alone(const Site& site, const site::Interlock& interlock) {
  if (!by_construction(interlock)) return false;
  return std::ranges::none_of(interlock.never_together, [&](const site::PositionOf& p) {
    const auto* bond = site::facts<site::Bond>(site.elements[p.element]);
    return bond != nullptr && bond->proved_by && !bond->proved_by->empty();
  });
}

bool all_earthed(const Site& site) {
  std::size_t main = site::none;
  each<site::MainEarthingTerminal>(site, [&](std::size_t e, const auto&) { main = e; });
  const auto seen = reached(site, {main, 0}, {Conductor::pe}, site::none);
  for (std::size_t e = 0; e < seen.size(); ++e)
    if (site.elements[e].conductors.has(Conductor::pe) && std::ranges::count(seen[e], true) == 0)
      return false;
  return true;
}

std::vector<std::size_t> busbars(const Site& site) {
  std::vector<std::size_t> found;
  each<site::Busbar>(site, [&](std::size_t e, const auto&) { found.push_back(e); });
  return found;
}

std::vector<std::size_t> loads(const Site& site) {
  std::vector<std::size_t> found;
  each<site::LoadGroup>(site, [&](std::size_t e, const auto&) { found.push_back(e); });
  return found;
}

std::vector<std::size_t> runs_at(const Site& site, site::Terminal terminal) {
  std::vector<std::size_t> found;
  for (std::size_t r = 0; r < site.runs.size(); ++r)
    if (site.runs[r].from == terminal || site.runs[r].to == terminal) found.push_back(r);
  return found;
}

site::Terminal other_end(const site::Run& run, std::size_t element) {
  return run.from.element == element ? run.to : run.from;
}

site::Terminal& end_at(site::Run& run, std::size_t element) {
  return run.from.element == element ? run.from : run.to;
}

std::size_t run_of_load(const Site& site, std::size_t load) {
  for (std::size_t r = 0; r < site.runs.size(); ++r)
    if (site.runs[r].to.element == load) return r;
  return site::none;
}

std::size_t device_of_load(const Site& site, std::size_t load) {
  const std::size_t run = run_of_load(site, load);
  if (run == site::none) return site::none;
  const std::size_t device = site.runs[run].from.element;
  return site::facts<site::Device>(site.elements[device]) == nullptr ? site::none : device;
}

std::size_t add_element(Site& site, std::string designation, site::Facts facts,
                        std::vector<std::string> terminals, site::Conductors conductors) {
  site.elements.push_back({.designation = std::move(designation),
                           .name = {},
                           .where = {},
                           .assembly = site::none,
                           .facts = std::move(facts),
                           .conductors = conductors,
                           .terminals = std::move(terminals)});
  return site.elements.size() - 1;
}

void join(Site& site, site::Terminal from, site::Terminal to, site::Conductors conductors) {
  site.runs.push_back({.designation = {},
                       .where = {},
                       .from = from,
                       .to = to,
                       .conductors = conductors,
                       .cable = {}});
}

std::size_t add_bond(Site& site, site::Terminal at, site::Bond bond) {
  const std::size_t e =
      add_element(site, "-X99", std::move(bond), {"at"}, {Conductor::n, Conductor::pe});
  join(site, {e, 0}, at, {Conductor::n, Conductor::pe});
  return e;
}

void cut_off(Site& site, std::size_t element) {
  std::erase_if(site.runs, [&](const site::Run& run) {
    return run.from.element == element || run.to.element == element;
  });
}

void bridge(Site& site, std::size_t element) {
  site::Element& it = site.elements[element];
  it.facts = site::Busbar{};
  it.terminals = {"bar"};
  for (site::Run& run : site.runs) {
    if (run.from.element == element) run.from.terminal = 0;
    if (run.to.element == element) run.to.terminal = 0;
  }
  const auto is_it = [&](const site::PositionOf& p) { return p.element == element; };
  for (site::State& state : site.states)
    std::erase_if(state.positions, is_it);
  for (site::Interlock& interlock : site.interlocks)
    std::erase_if(interlock.never_together, is_it);
  std::erase_if(site.interlocks, [](const auto& i) { return i.never_together.size() < 2; });
  for (site::Element& other : site.elements) {
    if (auto* inverter = std::get_if<site::Inverter>(&other.facts))
      std::erase(inverter->synchronises_at, element);
    if (auto* bond = std::get_if<site::Bond>(&other.facts); bond != nullptr && bond->proved_by)
      std::erase(*bond->proved_by, element);
  }
}

void break_conductor(Site& site, std::size_t run, Conductor conductor) {
  site.runs[run].conductors.remove(conductor);
}

std::string run_name(const Site& site, std::size_t run) {
  const site::Run& it = site.runs[run];
  if (!it.designation.empty()) return it.designation;
  return name(site, it.from.element) + " to " + name(site, it.to.element);
}

}  // namespace linewright::tests
