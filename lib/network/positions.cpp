#include "network/positions.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace linewright::network {
namespace {

using site::Conductor;

class Sets {
 public:
  explicit Sets(std::size_t size) : up_(size) { std::iota(up_.begin(), up_.end(), 0U); }
  std::uint32_t find(std::uint32_t i) {
    while (up_[i] != i)
      i = up_[i] = up_[up_[i]];
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    a = find(a);
    b = find(b);
    if (a != b) up_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<std::uint32_t> up_;
};

bool conducts(const Edge& edge) {
  return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth;
}

bool lines_meet(const Network& network, const std::vector<std::uint32_t>& component,
                std::size_t element_a, std::size_t terminal_a, std::size_t element_b,
                std::size_t terminal_b) {
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
    const std::uint32_t a = network.node(element_a, terminal_a, c);
    if (a == no_node) continue;
    for (const Conductor d : {Conductor::l1, Conductor::l2, Conductor::l3}) {
      const std::uint32_t b = network.node(element_b, terminal_b, d);
      if (b != no_node && component[a] == component[b]) return true;
    }
  }
  return false;
}

using Running = std::vector<std::size_t>;

bool runs(const Running& running, std::size_t element) {
  return std::ranges::count(running, element) > 0;
}

/// Whether the contact's inverter moves alone, or every running one of its set may close as well.
bool all_of_set_close(const Network& network, const site::Site& site, const Running& running,
                      const std::vector<int>& closing, int contact) {
  const std::size_t element = network.switches[static_cast<std::size_t>(contact)].element;
  for (const site::SynchronisingSet& set : site.synchronising_sets) {
    if (set.transfer_together != true || std::ranges::count(set.sources, element) == 0) continue;
    for (const std::size_t other : set.sources) {
      const int its = network.find_switch(other, "transfer");
      if (its >= 0 && runs(running, other) && std::ranges::count(closing, its) == 0) return false;
    }
  }
  return true;
}

/// Sets the transfer contact of every running inverter whose grid side is alive from a source
/// that is not an inverter with such a contact itself.
void close_transfers(const Network& network, const site::Site& site, const Running& running,
                     const std::vector<bool>& held, Positions& positions) {
  const auto component = components(network, positions, false);
  std::vector<int> to_close;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const Switch& contact = network.switches[s];
    if (held[s] || contact.part != "transfer" || !runs(running, contact.element)) continue;
    const std::size_t ac = site.find_terminal(contact.element, "ac");
    for (const SourcePoint& source : network.sources) {
      if (!source.forming || !runs(running, source.element) || source.element == contact.element)
        continue;
      const auto* other = site::facts<site::Inverter>(site.elements[source.element]);
      if (other != nullptr && other->has_backup_side) continue;
      if (lines_meet(network, component, contact.element, ac, source.element, source.terminal))
        to_close.push_back(static_cast<int>(s));
    }
  }
  for (const int s : to_close)
    if (all_of_set_close(network, site, running, to_close, s))
      positions.of[static_cast<std::size_t>(s)] = 1;
}

bool stands_alone(const Network& network, const Running& running, const Positions& positions,
                  std::size_t element) {
  const int transfer = network.find_switch(element, "transfer");
  if (transfer >= 0) return positions.of[static_cast<std::size_t>(transfer)] == 0;
  const auto own = std::ranges::find(network.sources, element, &SourcePoint::element);
  return !in_company(network, components(network, positions, false), running, *own);
}

void set_named(const Network& network, const site::State& state, Positions& positions,
               std::vector<bool>& named) {
  for (const site::PositionOf& wanted : state.positions) {
    const int s = network.find_switch(wanted.element, wanted.part);
    if (s < 0) continue;
    const auto& names = network.switches[static_cast<std::size_t>(s)].positions;
    const auto found = std::ranges::find(names, wanted.position);
    if (found == names.end()) continue;
    positions.of[static_cast<std::size_t>(s)] = static_cast<int>(found - names.begin());
    named[static_cast<std::size_t>(s)] = true;
  }
}

void set_links(const Network& network, const site::Site& site, const site::State& state,
               std::vector<bool>& named, Positions& positions) {
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    if (named[s]) continue;
    const auto* link = site::facts<site::Bond>(site.elements[network.switches[s].element]);
    if (link == nullptr || link->closed_in.empty()) continue;
    const bool here = std::ranges::count(link->closed_in, state.name) > 0;
    positions.of[s] = here ? 1 : 0;
    named[s] = true;
  }
}

/// Where a neutral-earth contact on site stands: it follows those that prove it, as long as the
/// source that drives it runs; without them, or while that source stands, it is at rest.
int place_of_link(const Network& network, const site::Site& site, const Running& running,
                  const Positions& positions, const Switch& it, const site::Bond& link) {
  if (!link.proved_by || link.proved_by->empty()) return it.rest;
  for (const SourcePoint& source : network.sources)
    if (site.elements[source.element].designation == link.driven_by &&
        !runs(running, source.element))
      return it.rest;
  for (const std::size_t contact : *link.proved_by) {
    const int by = proving_switch(network, contact);
    if (by < 0) return unknown;
    const int at = positions.of[static_cast<std::size_t>(by)];
    if (at == unknown) return unknown;
    if (!is_open_position(network, by, at)) return 0;
  }
  return 1;
}

void set_off(const Network& network, int index, Positions& positions) {
  const auto& names = network.switches[static_cast<std::size_t>(index)].positions;
  for (const char* off : {"open", "0"}) {
    const auto found = std::ranges::find(names, off);
    if (found != names.end())
      positions.of[static_cast<std::size_t>(index)] = static_cast<int>(found - names.begin());
  }
}

}  // namespace

bool is_open_position(const Network& network, int by, int position) {
  const std::size_t element = network.switches[static_cast<std::size_t>(by)].element;
  return std::ranges::none_of(network.edges_of(element), [&](const Edge& edge) {
    return edge.by == by && (edge.closed_in >> static_cast<unsigned>(position) & 1U) != 0;
  });
}

bool in_company(const Network& network, const std::vector<std::uint32_t>& component,
                const std::vector<std::size_t>& running, const SourcePoint& source) {
  return std::ranges::any_of(network.sources, [&](const SourcePoint& other) {
    return other.element != source.element && other.forming && runs(running, other.element) &&
           (other.set < 0 || other.set != source.set) &&
           lines_meet(network, component, source.element, source.terminal, other.element,
                      other.terminal);
  });
}

int proving_switch(const Network& network, std::size_t element) {
  const int transfer = network.find_switch(element, "transfer");
  return transfer >= 0 ? transfer : network.find_switch(element);
}

Closed closed(const Edge& edge, const Positions& positions) {
  if (edge.by == fixed) {
    if ((edge.closed_in & 1U) != 0) return Closed::yes;
    return (edge.undecided_in & 1U) != 0 ? Closed::undecided : Closed::no;
  }
  const int at = positions.of[static_cast<std::size_t>(edge.by)];
  if (at == unknown) return Closed::undecided;
  const std::uint32_t bit = 1U << static_cast<unsigned>(at);
  if ((edge.closed_in & bit) != 0) return Closed::yes;
  return (edge.undecided_in & bit) != 0 ? Closed::undecided : Closed::no;
}

Positions positions_of(const Network& network, const site::Site& site, const site::State& state) {
  Positions positions;
  for (const Switch& s : network.switches)
    positions.of.push_back(s.rest);
  std::vector<bool> named(network.switches.size(), false);
  set_named(network, state, positions, named);
  set_links(network, site, state, named, positions);
  follow_inner_laws(network, site, state.running, named, positions);
  return positions;
}

void follow_inner_laws(const Network& network, const site::Site& site,
                       const std::vector<std::size_t>& running, const std::vector<bool>& held,
                       Positions& positions) {
  close_transfers(network, site, running, held, positions);
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const Switch& contact = network.switches[s];
    if (held[s] || contact.part != "bond" || !runs(running, contact.element)) continue;
    positions.of[s] = stands_alone(network, running, positions, contact.element) ? 1 : 0;
  }
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const Switch& it = network.switches[s];
    const auto* link = site::facts<site::Bond>(site.elements[it.element]);
    if (link != nullptr && !held[s])
      positions.of[s] = place_of_link(network, site, running, positions, it, *link);
  }
}

std::vector<std::uint32_t> components(const Network& network, const Positions& positions,
                                      bool undecided_too) {
  Sets sets(network.nodes.size());
  for (const Edge& edge : network.edges) {
    if (!conducts(edge)) continue;
    const Closed how = closed(edge, positions);
    if (how == Closed::yes || (undecided_too && how == Closed::undecided))
      sets.join(edge.a, edge.b);
  }
  std::vector<std::uint32_t> component(network.nodes.size());
  for (std::uint32_t n = 0; n < component.size(); ++n)
    component[n] = sets.find(n);
  return component;
}

bool in_step(const Network& network, const Positions& positions, std::size_t source_a,
             std::size_t source_b) {
  const SourcePoint& a = network.sources[source_a];
  const SourcePoint& b = network.sources[source_b];
  if (!a.forming || !b.forming) return true;
  if (a.set >= 0 && a.set == b.set) return true;
  Positions without = positions;
  for (const SourcePoint& source : network.sources) {
    const bool same_set = source.set >= 0 && (source.set == a.set || source.set == b.set);
    if (&source != &a && &source != &b && !same_set) continue;
    for (const int s : source.synchronised_at)
      set_off(network, s, without);
  }
  const auto component = components(network, without, false);
  return !lines_meet(network, component, a.element, a.terminal, b.element, b.terminal);
}

}  // namespace linewright::network
