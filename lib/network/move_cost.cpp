// What a move costs. The amounts only rank sequences: no penalty outweighs safety, which is not a
// matter of cost, and all of them express common practice of the trade (no source).
#include <algorithm>

#include "network/sequence.hpp"

namespace linewright::network {
namespace {

constexpr int one_move = 100;
constexpr int load_by_no_load_device = 400;
constexpr int load_by_device_without_category = 50;
constexpr int generator_under_load = 30;
constexpr int inverter_before_its_grid_side = 20;
constexpr int inverter_onto_circuits = 5;
constexpr int moved_while_its_driver_rests = 60;
constexpr int switched_before_the_stop = 2;
constexpr int circuits_dead = 1;

using Component = std::vector<std::uint32_t>;

/// Marks the components that touch any of these nodes.
void mark(const Component& component, const std::vector<std::uint32_t>& nodes,
          std::vector<bool>& marks) {
  for (const std::uint32_t node : nodes)
    marks[component[node]] = true;
}

std::vector<std::uint32_t> direct_nodes(const Network& network, const site::Site& site,
                                        std::size_t element) {
  std::vector<std::uint32_t> nodes;
  for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t)
    for (const site::Conductor c : {site::Conductor::dc_plus, site::Conductor::dc_minus})
      if (const std::uint32_t node = network.node(element, t, c); node != no_node)
        nodes.push_back(node);
  return nodes;
}

/// Components that a load current can flow in: a running source and a load or a second source.
std::vector<bool> loaded_components(const SearchTask& task, const Situation& situation,
                                    const Component& component) {
  const Network& network = task.network;
  std::vector<bool> fed(component.size(), false);
  std::vector<bool> loaded(component.size(), false);
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (!situation.running[s]) continue;
    for (const std::uint32_t node : line_nodes(network, s)) {
      if (fed[component[node]]) loaded[component[node]] = true;
      fed[component[node]] = true;
    }
    mark(component, direct_nodes(network, task.site, network.sources[s].element), loaded);
  }
  std::vector<bool> taking(component.size(), false);
  for (std::size_t e = 0; e < task.site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(task.site.elements[e]) != nullptr)
      mark(component, line_nodes(network, e, 0), taking);
  for (std::size_t c = 0; c < component.size(); ++c)
    if (fed[c] && taking[c]) loaded[c] = true;
  return loaded;
}

bool carries_load(const SearchTask& task, const Situation& situation, int by) {
  const Component component = components(task.network, situation.positions, false);
  const std::vector<bool> loaded = loaded_components(task, situation, component);
  return std::ranges::any_of(task.network.edges, [&](const Edge& edge) {
    return edge.by == by && closed(edge, situation.positions) == Closed::yes &&
           (site::lines | site::direct_current).has(edge.conductor) && loaded[component[edge.a]];
  });
}

/// What the trade asks for a device that makes or breaks load current.
int price_under_load(const site::Device& device) {
  switch (device.kind) {
    case site::DeviceKind::disconnector:
    case site::DeviceKind::link:
    case site::DeviceKind::fuse:
      return load_by_no_load_device;
    case site::DeviceKind::changeover:
      if (device.category.empty()) return load_by_device_without_category;
      return device.category.starts_with("AC-20") || device.category.starts_with("DC-20")
                 ? load_by_no_load_device
                 : 0;
    case site::DeviceKind::breaker:
    case site::DeviceKind::rcd:
    case site::DeviceKind::rcbo:
    case site::DeviceKind::switch_disconnector:
    case site::DeviceKind::fuse_switch:
    case site::DeviceKind::contactor:
      return 0;
  }
  return 0;
}

/// Whether the source that drives a coil is stopped.
bool driver_rests(const SearchTask& task, const site::Device& device, const Situation& situation) {
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    if (task.site.elements[task.network.sources[s].element].designation == device.driven_by)
      return !situation.running[s];
  return false;
}

int price_of_switching(const SearchTask& task, const Situation& before, const Situation& after,
                       int by) {
  const Switch& it = task.network.switches[static_cast<std::size_t>(by)];
  const auto* device = site::facts<site::Device>(task.site.elements[it.element]);
  int price = device == nullptr ? 0 : price_under_load(*device);
  if (price > 0 && !carries_load(task, before, by) && !carries_load(task, after, by)) price = 0;
  if (device != nullptr && driver_rests(task, *device, before))
    price += moved_while_its_driver_rests;
  for (const std::size_t source : task.preferences.stop_first)
    if (before.running[source]) return price + switched_before_the_stop;
  return price;
}

bool feeds_loads(const SearchTask& task, const Situation& situation, std::size_t source) {
  const Component component = components(task.network, situation.positions, false);
  std::vector<bool> own(component.size(), false);
  mark(component, line_nodes(task.network, source), own);
  for (std::size_t e = 0; e < task.site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(task.site.elements[e]) != nullptr)
      for (const std::uint32_t node : line_nodes(task.network, e, 0))
        if (own[component[node]]) return true;
  return false;
}

/// Whether the grid side of an inverter is dead while a stronger source runs that could feed it.
bool waits_for_grid_side(const SearchTask& task, const Situation& situation, std::size_t source) {
  const std::size_t element = task.network.sources[source].element;
  const std::size_t ac = task.site.find_terminal(element, "ac");
  if (ac == site::none) return false;
  const Component component = components(task.network, situation.positions, false);
  bool stronger_runs = false;
  for (std::size_t s = 0; s < task.network.sources.size(); ++s) {
    const site::Element& other = task.site.elements[task.network.sources[s].element];
    if (!situation.running[s] || site::facts<site::Inverter>(other) != nullptr) continue;
    stronger_runs = true;
    for (const std::uint32_t a : line_nodes(task.network, s))
      for (const std::uint32_t b : line_nodes(task.network, element, ac))
        if (component[a] == component[b]) return false;
  }
  return stronger_runs;
}

/// Whether another running source is joined to this one's lines.
bool is_fed(const SearchTask& task, const Situation& situation, std::size_t source) {
  const Component component = components(task.network, situation.positions, false);
  std::vector<bool> fed(component.size(), false);
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    if (s != source && situation.running[s] && task.network.sources[s].forming)
      mark(component, line_nodes(task.network, s), fed);
  return std::ranges::any_of(line_nodes(task.network, source),
                             [&](std::uint32_t node) { return fed[component[node]]; });
}

int price_of_source(const SearchTask& task, const Situation& before, const Situation& after,
                    const Move& move) {
  const bool starts = move.kind == Move::Kind::start;
  const site::Element& element = task.site.elements[task.network.sources[move.source].element];
  if (site::facts<site::Generator>(element) != nullptr)
    return feeds_loads(task, starts ? after : before, move.source) ? generator_under_load : 0;
  if (!starts) return 0;
  int price = waits_for_grid_side(task, before, move.source) ? inverter_before_its_grid_side : 0;
  if (feeds_loads(task, before, move.source) && !is_fed(task, before, move.source))
    price += inverter_onto_circuits;
  return price;
}

int price_of_dead_circuits(const SearchTask& task, const Situation& after) {
  if (task.preferences.loads_kept.empty()) return 0;
  const Component component = components(task.network, after.positions, false);
  std::vector<bool> fed(component.size(), false);
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    if (after.running[s] && task.network.sources[s].forming)
      mark(component, line_nodes(task.network, s), fed);
  for (const std::size_t load : task.preferences.loads_kept)
    for (const std::uint32_t node : line_nodes(task.network, load, 0))
      if (!fed[component[node]]) return circuits_dead;
  return 0;
}

}  // namespace

int cost_of(const SearchTask& task, const Situation& before, const Move& move) {
  const Situation after = after_move(task, before, move);
  switch (move.kind) {
    case Move::Kind::put:
      return one_move + price_of_switching(task, before, after, move.by) +
             price_of_dead_circuits(task, after);
    case Move::Kind::start:
    case Move::Kind::stop:
      return one_move + price_of_source(task, before, after, move) +
             price_of_dead_circuits(task, after);
    case Move::Kind::supply_fails:
    case Move::Kind::supply_returns:
      return 0;
  }
  return one_move;
}

}  // namespace linewright::network
