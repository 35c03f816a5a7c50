// States that do not run as they should, circuits on the wrong side.
#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Site;
using site::StateKind;

/// Whether another state of some use shows every position and every source of this one.
bool shown_elsewhere(const Site& site, std::size_t state) {
  const auto others = [&](auto shows) {
    for (std::size_t s = 0; s < site.states.size(); ++s)
      if (s != state && !site.states[s].running.empty() && shows(site.states[s])) return true;
    return false;
  };
  const site::State& it = site.states[state];
  return std::ranges::all_of(it.positions,
                             [&](const site::PositionOf& p) {
                               return others([&](const site::State& other) {
                                 return std::ranges::any_of(other.positions, [&](const auto& q) {
                                   return q.element == p.element && q.position == p.position;
                                 });
                               });
                             }) &&
         std::ranges::all_of(it.running, [&](std::size_t source) {
           return others([&](const site::State& other) {
             return std::ranges::count(other.running, source) > 0;
           });
         });
}

void state_left_out(const Site& sound, const Put& put) {
  for (std::size_t s = 0; s < sound.states.size(); ++s) {
    const StateKind kind = sound.states[s].kind;
    if (kind == StateKind::off || kind == StateKind::grid) continue;
    if (kind == StateKind::generator && shown_elsewhere(sound, s)) continue;
    Site wrong = sound;
    wrong.states.erase(wrong.states.begin() + static_cast<std::ptrdiff_t>(s));
    put(sound.states[s].name, std::move(wrong));
  }
}

/// First bar of each board, in the order of the file.
std::vector<std::size_t> board_bars(const Site& site) {
  std::vector<std::size_t> found;
  for (const std::size_t bar : busbars(site)) {
    const std::size_t a = site.elements[bar].assembly;
    if (a != site::none && site.assemblies[a].kind == site::Assembly::Kind::board)
      found.push_back(bar);
  }
  return found;
}

// A circuit lands on a board of another class; what it was promised stays as written. What is shed
// may be dead in an outage wherever it hangs.
template <class Which>
void moved_to_another_class(const Site& sound, const Put& put, Which which) {
  for (const std::size_t load : loads(sound)) {
    const std::size_t device = device_of_load(sound, load);
    if (device == site::none) continue;
    const std::optional<site::Service> promised = service_of(sound, load);
    if (std::get<site::LoadGroup>(sound.elements[load].facts).shed_in_island) continue;
    for (const std::size_t bar : board_bars(sound)) {
      const std::optional<site::Service> there =
          sound.assemblies[sound.elements[bar].assembly].service;
      if (!promised || !there || !which(*promised, *there)) continue;
      for (const std::size_t r : runs_at(sound, {device, 0})) {
        if (sound.elements[sound.runs[r].from.element].assembly == sound.elements[bar].assembly)
          continue;
        Site wrong = sound;
        facts_of<site::LoadGroup>(wrong, load).service = promised;
        wrong.runs[r].from = {bar, 0};
        put(name(sound, load) + " on " + name(sound, bar), std::move(wrong));
      }
    }
  }
}

void onto_the_backup(const Site& sound, const Put& put) {
  moved_to_another_class(sound, put, [](site::Service promised, site::Service there) {
    return promised != site::Service::backup && there == site::Service::backup;
  });
}

void off_the_backup(const Site& sound, const Put& put) {
  moved_to_another_class(sound, put, [](site::Service promised, site::Service there) {
    return promised == site::Service::backup && there != site::Service::backup;
  });
}

constexpr std::array kinds{
    FaultKind{"state left out", state_left_out},
    FaultKind{"circuit put on a backed-up board", onto_the_backup},
    FaultKind{"backed-up circuit put on another board", off_the_backup},
};

}  // namespace

std::span<const FaultKind> state_faults() {
  return kinds;
}

}  // namespace linewright::tests
