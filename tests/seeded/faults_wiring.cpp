// Conductors broken, borrowed, joined or landed at the wrong place.
#include <algorithm>
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Conductor;
using site::Site;

bool feeds_a_load(const Site& site, const site::Run& run) {
  return site::facts<site::LoadGroup>(site.elements[run.to.element]) != nullptr;
}

/// The cable of a source that only follows: without neutral it feeds in on its lines, or stops.
bool of_a_follower(const Site& site, const site::Run& run) {
  for (const std::size_t e : {run.from.element, run.to.element})
    if (const auto* inverter = site::facts<site::Inverter>(site.elements[e]))
      if (inverter->forming == site::Forming::grid_following) return true;
  return false;
}

void neutral_of_feeder_broken(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    const site::Run& run = sound.runs[r];
    if (!run.cable || !run.conductors.has(Conductor::n) || feeds_a_load(sound, run) ||
        of_a_follower(sound, run))
      continue;
    Site wrong = sound;
    break_conductor(wrong, r, Conductor::n);
    put(run_name(sound, r), std::move(wrong));
  }
}

void neutral_of_circuit_broken(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    const site::Run& run = sound.runs[r];
    if (!run.cable || !run.conductors.has(Conductor::n) || !feeds_a_load(sound, run)) continue;
    Site wrong = sound;
    break_conductor(wrong, r, Conductor::n);
    put(run_name(sound, r), std::move(wrong));
  }
}

/// The next circuit of the same board that has a device of its own and a neutral, or `none`.
std::size_t neighbour(const Site& site, std::size_t load) {
  const std::vector<std::size_t> all = loads(site);
  const std::size_t own = device_of_load(site, load);
  for (const std::size_t other : all) {
    const std::size_t device = device_of_load(site, other);
    if (other != load && device != site::none && device != own &&
        site.elements[device].assembly == site.elements[own].assembly &&
        site.elements[other].conductors.has(Conductor::n))
      return other;
  }
  return site::none;
}

template <class Change>
void each_pair(const Site& sound, const Put& put, Change change) {
  for (const std::size_t load : loads(sound)) {
    if (device_of_load(sound, load) == site::none ||
        !sound.elements[load].conductors.has(Conductor::n))
      continue;
    const std::size_t other = neighbour(sound, load);
    if (other == site::none) continue;
    Site wrong = sound;
    change(wrong, load, other);
    put(name(sound, load) + " and " + name(sound, other), std::move(wrong));
  }
}

void neutral_borrowed(const Site& sound, const Put& put) {
  each_pair(sound, put, [](Site& wrong, std::size_t load, std::size_t other) {
    break_conductor(wrong, run_of_load(wrong, load), Conductor::n);
    join(wrong, {device_of_load(wrong, other), 1}, {load, 0}, {Conductor::n});
  });
}

void neutrals_joined(const Site& sound, const Put& put) {
  each_pair(sound, put, [](Site& wrong, std::size_t load, std::size_t other) {
    join(wrong, {other, 0}, {load, 0}, {Conductor::n});
  });
}

void lines_joined(const Site& sound, const Put& put) {
  each_pair(sound, put, [](Site& wrong, std::size_t load, std::size_t other) {
    const site::Conductors both =
        wrong.elements[load].conductors & wrong.elements[other].conductors & site::line_and_neutral;
    join(wrong, {other, 0}, {load, 0}, both);
  });
}

// The neutral bars of two boards are joined beside their feeders.
void neutral_bars_joined(const Site& sound, const Put& put) {
  const std::vector<std::size_t> bars = busbars(sound);
  for (std::size_t i = 0; i < bars.size(); ++i)
    for (std::size_t j = i + 1; j < bars.size(); ++j) {
      const bool one_enclosure =
          sound.elements[bars[i]].assembly == sound.elements[bars[j]].assembly;
      if (one_enclosure) continue;
      Site wrong = sound;
      join(wrong, {bars[i], 0}, {bars[j], 0}, {Conductor::n});
      put(name(sound, bars[i]) + " and " + name(sound, bars[j]), std::move(wrong));
    }
}

// A joint of the transfer panel lands on another of its bars.
void joint_on_the_wrong_bar(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    const site::Run& run = sound.runs[r];
    for (const bool at_from : {true, false}) {
      const site::Terminal end = at_from ? run.from : run.to;
      const std::size_t panel = sound.elements[end.element].assembly;
      if (run.cable || panel == site::none ||
          sound.assemblies[panel].kind != site::Assembly::Kind::transfer_panel ||
          site::facts<site::Busbar>(sound.elements[end.element]) == nullptr ||
          (run.conductors & site::lines).empty())
        continue;
      for (const std::size_t bar : busbars(sound)) {
        if (bar == end.element || sound.elements[bar].assembly != panel) continue;
        Site wrong = sound;
        (at_from ? wrong.runs[r].from : wrong.runs[r].to) = {bar, 0};
        put(run_name(sound, r) + " on " + name(sound, bar), std::move(wrong));
      }
    }
  }
}

// A strap between two bars of the transfer panel.
void bars_joined(const Site& sound, const Put& put) {
  const std::vector<std::size_t> bars = busbars(sound);
  for (std::size_t i = 0; i < bars.size(); ++i)
    for (std::size_t j = i + 1; j < bars.size(); ++j) {
      const std::size_t panel = sound.elements[bars[i]].assembly;
      if (panel == site::none || sound.elements[bars[j]].assembly != panel) continue;
      Site wrong = sound;
      join(wrong, {bars[i], 0}, {bars[j], 0},
           sound.elements[bars[i]].conductors & sound.elements[bars[j]].conductors);
      put(name(sound, bars[i]) + " and " + name(sound, bars[j]), std::move(wrong));
    }
}

constexpr std::array kinds{
    FaultKind{"neutral of a feeder broken", neutral_of_feeder_broken},
    FaultKind{"neutral of a circuit broken", neutral_of_circuit_broken},
    FaultKind{"neutral borrowed from the next circuit", neutral_borrowed},
    FaultKind{"neutrals of two circuits joined", neutrals_joined},
    FaultKind{"two circuits joined", lines_joined},
    FaultKind{"neutral bars of two boards joined", neutral_bars_joined},
    FaultKind{"joint of the panel on the wrong bar", joint_on_the_wrong_bar},
    FaultKind{"bars of the panel joined", bars_joined},
};

}  // namespace

std::span<const FaultKind> wiring_faults() {
  return kinds;
}

}  // namespace linewright::tests
