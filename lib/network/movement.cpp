#include "network/movement.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace linewright::network {
namespace {

std::vector<int> all_positions(const Switch& it) {
  std::vector<int> positions;
  for (std::size_t p = 0; p < it.positions.size(); ++p)
    positions.push_back(static_cast<int>(p));
  return positions;
}

int position_named(const Switch& it, const std::string& name) {
  const auto found = std::ranges::find(it.positions, name);
  return found == it.positions.end() ? unknown : static_cast<int>(found - it.positions.begin());
}

Freedom freedom_of_device(const Switch& it, const site::Device& device) {
  Freedom freedom{.positions = all_positions(it), .protects = opens_by_itself(device)};
  if (device.without_power) freedom.without_power = position_named(it, *device.without_power);
  if (device.kind == site::DeviceKind::link) {
    freedom.mover = Mover::nobody;
    freedom.positions = {it.rest};
  } else if (device.operation) {
    switch (*device.operation) {
      case site::Operation::hand:
        freedom.mover = Mover::hand;
        break;
      case site::Operation::controller:
        freedom.mover = Mover::controller;
        break;
      case site::Operation::both:
        freedom.mover = Mover::both;
        break;
    }
  } else if (device.kind == site::DeviceKind::contactor) {
    freedom.mover = Mover::controller;
  } else if (device.kind != site::DeviceKind::changeover) {
    freedom.mover = Mover::hand;  // common practice, no source: these have a handle
  }
  return freedom;
}

Freedom freedom_of(const site::Site& site, const Switch& it) {
  const site::Element& element = site.elements[it.element];
  if (const auto* device = site::facts<site::Device>(element))
    return freedom_of_device(it, *device);
  return {.mover = Mover::law, .positions = all_positions(it), .without_power = it.rest};
}

/// A neutral-earth contact that a state or nothing closes: outside the named states nobody knows
/// where it stands.
bool has_no_law(const site::Site& site, const Switch& it) {
  const auto* link = site::facts<site::Bond>(site.elements[it.element]);
  return link != nullptr && (!link->proved_by || link->proved_by->empty());
}

Barrier barrier_of(const Network& network, const site::Site& site, std::size_t interlock) {
  Barrier barrier{.interlock = interlock};
  for (const site::PositionOf& wanted : site.interlocks[interlock].never_together) {
    const int by = network.find_switch(wanted.element, wanted.part);
    if (by < 0) continue;
    const int at = position_named(network.switches[static_cast<std::size_t>(by)], wanted.position);
    const SwitchAt place{by, at};
    if (at != unknown && std::ranges::count(barrier.never_together, place) == 0)
      barrier.never_together.push_back(place);
  }
  return barrier;
}

}  // namespace

bool is_moved(const Freedom& freedom) {
  return freedom.mover != Mover::law && freedom.positions.size() > 1;
}

Movement with_stuck(Movement movement, int by, int position) {
  Freedom& freedom = movement.of[static_cast<std::size_t>(by)];
  freedom.mover = Mover::nobody;
  freedom.positions = {position};
  std::erase_if(movement.supervised, [&](const Supervised& it) { return it.by == by; });
  return movement;
}

Movement movement_of(const Network& network, const site::Site& site) {
  Movement movement;
  for (const Switch& it : network.switches)
    movement.of.push_back(freedom_of(site, it));
  for (std::size_t i = 0; i < site.interlocks.size(); ++i) {
    Barrier barrier = barrier_of(network, site, i);
    if (barrier.never_together.size() > 1) movement.barriers.push_back(std::move(barrier));
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    for (const int by : network.sources[s].synchronised_at)
      if (network.sources[s].forming &&
          movement.of[static_cast<std::size_t>(by)].mover == Mover::controller)
        movement.supervised.push_back({by, s});
  return movement;
}

std::vector<std::size_t> running_elements(const Network& network, const Situation& situation) {
  std::vector<std::size_t> elements;
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    if (situation.running[s]) elements.push_back(network.sources[s].element);
  return elements;
}

Situation situation_of(const Network& network, const site::Site& site, const site::State& state) {
  Situation situation{.positions = positions_of(network, site, state)};
  for (const SourcePoint& source : network.sources)
    situation.running.push_back(std::ranges::count(state.running, source.element) > 0);
  return situation;
}

void follow_laws(const Network& network, const site::Site& site, const Movement& movement,
                 Situation& situation) {
  std::vector<bool> held;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const bool free = movement.of[s].mover == Mover::law;
    held.push_back(!free);
    if (free) situation.positions.of[s] = network.switches[s].rest;
  }
  follow_inner_laws(network, site, running_elements(network, situation), held, situation.positions);
  for (std::size_t s = 0; s < network.switches.size(); ++s)
    if (!held[s] && has_no_law(site, network.switches[s])) situation.positions.of[s] = unknown;
}

std::size_t forbidden_by(const Movement& movement, const Situation& situation) {
  for (const Barrier& barrier : movement.barriers) {
    const auto there = std::ranges::count_if(barrier.never_together, [&](SwitchAt at) {
      return situation.positions.of[static_cast<std::size_t>(at.by)] == at.position;
    });
    if (there > 1) return barrier.interlock;
  }
  return site::none;
}

bool lasts(const Network& network, const Movement& movement, const Situation& situation) {
  std::vector<std::uint32_t> component;
  const std::vector<std::size_t> running = running_elements(network, situation);
  return std::ranges::all_of(movement.supervised, [&](const Supervised& it) {
    const int at = situation.positions.of[static_cast<std::size_t>(it.by)];
    if (!situation.running[it.source] || is_open_position(network, it.by, at)) return true;
    if (component.empty()) component = components(network, situation.positions, false);
    return in_company(network, component, running, network.sources[it.source]);
  });
}

std::vector<Move> moves_between(const Network& network, const Movement& movement,
                                const Situation& from, const Situation& to) {
  std::vector<Move> stops;
  std::vector<Move> opens;
  std::vector<Move> closes;
  std::vector<Move> starts;
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (from.running[s] == to.running[s]) continue;
    const bool supply = network.sources[s].utility;
    if (to.running[s])
      starts.push_back({supply ? Move::Kind::supply_returns : Move::Kind::start, -1, -1, s});
    else
      stops.push_back({supply ? Move::Kind::supply_fails : Move::Kind::stop, -1, -1, s});
  }
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const int at = to.positions.of[s];
    if (!is_moved(movement.of[s]) || from.positions.of[s] == at || at == unknown) continue;
    const int by = static_cast<int>(s);
    (is_open_position(network, by, at) ? opens : closes).push_back({Move::Kind::put, by, at});
  }
  for (const auto* more : {&opens, &closes, &starts})
    stops.insert(stops.end(), more->begin(), more->end());
  return stops;
}

std::string words_of(const Network& network, const site::Site& site, const Move& move) {
  const auto name = [&](std::size_t element) { return site.elements[element].designation; };
  switch (move.kind) {
    case Move::Kind::put:
      break;
    case Move::Kind::start:
      return "start " + name(network.sources[move.source].element);
    case Move::Kind::stop:
      return "stop " + name(network.sources[move.source].element);
    case Move::Kind::supply_fails:
      return "the supply fails";
    case Move::Kind::supply_returns:
      return "the supply returns";
  }
  const Switch& it = network.switches[static_cast<std::size_t>(move.by)];
  const std::string& position = it.positions[static_cast<std::size_t>(move.position)];
  if (position == "open" || position == "closed")
    return fmt::format("{} {}", position == "open" ? "open" : "close", name(it.element));
  return fmt::format("put {} to {}", name(it.element), position);
}

}  // namespace linewright::network
