#include "network/enumerate.hpp"

namespace linewright::network {
namespace {

/// Steps the positions of the moved switches, then the sources, like the wheels of a counter;
/// false once all have been through.
bool step(const Movement& movement, std::vector<std::size_t>& wheel, Situation& situation) {
  for (std::size_t s = 0; s < movement.of.size(); ++s) {
    if (!is_moved(movement.of[s])) continue;
    const auto& positions = movement.of[s].positions;
    wheel[s] = (wheel[s] + 1) % positions.size();
    situation.positions.of[s] = positions[wheel[s]];
    if (wheel[s] != 0) return true;
  }
  for (std::size_t s = 0; s < situation.running.size(); ++s) {
    situation.running[s] = !situation.running[s];
    if (situation.running[s]) return true;
  }
  return false;
}

}  // namespace

void each_situation(const Network& network, const site::Site& site, const Movement& movement,
                    const std::function<void(const Situation&)>& look) {
  std::vector<std::size_t> wheel(movement.of.size(), 0);
  Situation moved;
  moved.running.assign(network.sources.size(), false);
  for (const Freedom& freedom : movement.of)
    moved.positions.of.push_back(freedom.positions.front());
  do {
    Situation situation = moved;
    follow_laws(network, site, movement, situation);
    if (forbidden_by(movement, situation) == site::none && lasts(network, movement, situation))
      look(situation);
  } while (step(movement, wheel, moved));
}

}  // namespace linewright::network
