// What one move of a sequence is: what may be moved, to where, and what follows from it.
#include <algorithm>

#include "network/sequence.hpp"

namespace linewright::network {
namespace {

/// Whether the way from the supply goes on through it: it only joins, meters or divides.
bool leads_on(const site::Element& element) {
  return site::facts<site::Device>(element) == nullptr &&
         site::facts<site::Busbar>(element) == nullptr;
}

/// Elements that line conductors join to this one.
std::vector<std::size_t> neighbours(const site::Site& site, std::size_t element) {
  std::vector<std::size_t> others;
  for (const site::Run& run : site.runs) {
    if ((run.conductors & site::lines).empty()) continue;
    if (run.from.element == element) others.push_back(run.to.element);
    if (run.to.element == element) others.push_back(run.from.element);
  }
  return others;
}

/// Whether a fuse is the distributor's: the first device that is met from the supply on (common
/// practice).
bool first_after_supply(const site::Site& site, std::size_t fuse) {
  std::vector<bool> seen(site.elements.size(), false);
  std::vector<std::size_t> next;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::Supply>(site.elements[e]) != nullptr) next.push_back(e);
  while (!next.empty()) {
    const std::size_t at = next.back();
    next.pop_back();
    if (at == fuse) return true;
    if (seen[at] || !leads_on(site.elements[at])) continue;
    seen[at] = true;
    for (const std::size_t other : neighbours(site, at))
      next.push_back(other);
  }
  return false;
}

}  // namespace

bool may_be_moved(const SearchTask& task, int by) {
  const Freedom& freedom = task.movement.of[static_cast<std::size_t>(by)];
  if (freedom.mover == Mover::law || freedom.mover == Mover::nobody) return false;
  const std::size_t element = task.network.switches[static_cast<std::size_t>(by)].element;
  const auto* device = site::facts<site::Device>(task.site.elements[element]);
  if (device == nullptr || device->kind != site::DeviceKind::fuse)
    return freedom.positions.size() > 1;
  return !first_after_supply(task.site, element);
}

std::vector<int> next_positions(const Network& network, const Freedom& freedom, int by, int at) {
  std::vector<int> open;
  for (const int position : freedom.positions)
    if (is_open_position(network, by, position)) open.push_back(position);
  std::vector<int> next = open;
  if (open.empty() || std::ranges::count(open, at) > 0) next = freedom.positions;
  std::erase(next, at);
  return next;
}

Situation after_move(const SearchTask& task, Situation situation, const Move& move) {
  if (move.kind == Move::Kind::put)
    situation.positions.of[static_cast<std::size_t>(move.by)] = move.position;
  else
    situation.running[move.source] =
        move.kind == Move::Kind::start || move.kind == Move::Kind::supply_returns;
  follow_laws(task.network, task.site, task.movement, situation);
  return situation;
}

}  // namespace linewright::network
