// Sources of another make than planned, set otherwise, or joined where they must not be.
#include <algorithm>
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Conductor;
using site::Forming;
using site::Generator;
using site::Inverter;
using site::IslandNeutral;
using site::Site;

template <class T, class Change>
void each_of(const Site& sound, const Put& put, Change change) {
  each<T>(sound, [&](std::size_t e, const T&) {
    Site wrong = sound;
    if (change(facts_of<T>(wrong, e))) put(name(sound, e), std::move(wrong));
  });
}

// Of sets that are plugged in; a fixed one is ordered by its system.
void centre_tapped(const Site& sound, const Put& put) {
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.fixed != false) return false;
    generator.winding = site::Winding::centre_tapped;
    return true;
  });
}

void own_rcd(const Site& sound, const Put& put) {
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.fixed != false) return false;
    generator.own_rcd = true;
    return true;
  });
}

void portable(const Site& sound, const Put& put) {
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.fixed != true) return false;
    generator.fixed = false;
    return true;
  });
}

void socket_outlet(const Site& sound, const Put& put) {
  each_of<site::Connector>(sound, put, [](site::Connector& connector) {
    if (!connector.inlet) return false;
    connector.inlet = false;
    return true;
  });
}

void no_reverse_power_relay(const Site& sound, const Put& put) {
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.reverse_power_relay != true) return false;
    generator.reverse_power_relay = false;
    return true;
  });
}

/// Inverters that run with a generator in some state.
bool runs_with_generator(const Site& site, std::size_t inverter) {
  return std::ranges::any_of(site.states, [&](const site::State& state) {
    const bool generator = std::ranges::any_of(state.running, [&](std::size_t s) {
      return site::facts<Generator>(site.elements[s]) != nullptr;
    });
    return generator && std::ranges::count(state.running, inverter) > 0;
  });
}

void pushes_into_the_generator(const Site& sound, const Put& put) {
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (inverter.zero_feed_to_generator != true || !runs_with_generator(sound, e)) return;
    Site wrong = sound;
    facts_of<Inverter>(wrong, e).zero_feed_to_generator = false;
    put(name(sound, e), std::move(wrong));
  });
}

void other_island_neutral(const Site& sound, const Put& put) {
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    if (!inverter.island_neutral) return false;
    inverter.island_neutral = *inverter.island_neutral == IslandNeutral::opened
                                  ? IslandNeutral::joined
                                  : IslandNeutral::opened;
    return true;
  });
}

// The inner contact is bridged: grid side and backup side are one.
void transfer_contact_bridged(const Site& sound, const Put& put) {
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (!inverter.has_backup_side) return;
    Site wrong = sound;
    join(wrong, {e, sound.find_terminal(e, "ac")}, {e, sound.find_terminal(e, "backup")},
         sound.elements[e].conductors - site::direct_current);
    put(name(sound, e), std::move(wrong));
  });
}

void sides_exchanged(const Site& sound, const Put& put) {
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (!inverter.has_backup_side) return;
    Site wrong = sound;
    const std::size_t ac = sound.find_terminal(e, "ac");
    const std::size_t backup = sound.find_terminal(e, "backup");
    for (site::Run& run : wrong.runs)
      for (site::Terminal* end : {&run.from, &run.to})
        if (end->element == e && (end->terminal == ac || end->terminal == backup))
          end->terminal = end->terminal == ac ? backup : ac;
    put(name(sound, e), std::move(wrong));
  });
}

void not_held_in_step(const Site& sound, const Put& put) {
  for (std::size_t i = 0; i < sound.synchronising_sets.size(); ++i)
    for (const std::size_t source : sound.synchronising_sets[i].sources) {
      Site wrong = sound;
      std::erase(wrong.synchronising_sets[i].sources, source);
      put(name(sound, source), std::move(wrong));
    }
}

// All that are in step with each other lose it: one that synchronises speaks for its set.
void does_not_synchronise(const Site& sound, const Put& put) {
  Site wrong = sound;
  std::string who;
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (inverter.synchronises_at.empty()) return;
    facts_of<Inverter>(wrong, e).synchronises_at.clear();
    who += (who.empty() ? "" : " and ") + name(sound, e);
  });
  if (!who.empty()) put(who, std::move(wrong));
}

void synchronises_elsewhere(const Site& sound, const Put& put) {
  each<site::Device>(sound, [&](std::size_t q, const site::Device&) {
    Site wrong = sound;
    bool any = false;
    each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
      if (inverter.synchronises_at.empty() || !is_moved(sound, q) ||
          std::ranges::count(inverter.synchronises_at, q) > 0)
        return;
      facts_of<Inverter>(wrong, e).synchronises_at = {q};
      any = true;
    });
    if (any) put(name(sound, q), std::move(wrong));
  });
}

/// "out" of a new portable set at a bar, through a switch and nothing else.
void set_at_a_bar(const Site& sound, const Put& put) {
  for (const std::size_t bar : busbars(sound)) {
    const site::Conductors all = sound.elements[bar].conductors;
    Site wrong = sound;
    Generator set;
    set.neutral = site::NeutralLink::none;
    set.winding = site::Winding::line_neutral;
    set.fixed = false;
    set.own_rcd = false;
    const std::size_t g = add_element(wrong, "-G99", set, {"out"}, all);
    site::Device way{.kind = site::DeviceKind::switch_disconnector,
                     .poles = site::Poles{all.count() > 3 ? 3 : 1, true, ""},
                     .rest = "open",
                     .operation = site::Operation::hand};
    const std::size_t q = add_element(wrong, "-Q99", way, {"1", "2"}, all);
    join(wrong, {g, 0}, {q, 0}, all);
    join(wrong, {q, 1}, {bar, 0}, all);
    put(name(sound, bar), std::move(wrong));
  }
}

/// An inverter of the plug-in kind, with everything declared that can be asked of it.
Inverter plug_in() {
  Inverter inverter;
  inverter.forming = Forming::grid_following;
  inverter.power = 0.8 * unit::kilovolt_ampere;
  inverter.bond = site::BondContact::absent;
  inverter.separation = site::Separation::transformer;
  inverter.declared_rcd_type = "A";
  inverter.no_dc_fault_current = true;
  inverter.zero_feed_to_generator = true;
  inverter.frequency_watt = true;
  inverter.waveform = "sine";
  inverter.grid_code = "EN 50549-1";
  return inverter;
}

// PV plugged into a circuit, behind the RCD that its other users rely on.
void solar_at_a_circuit(const Site& sound, const Put& put) {
  for (const std::size_t load : loads(sound)) {
    Site wrong = sound;
    const std::size_t t =
        add_element(wrong, "-T99", plug_in(), {"ac"}, sound.elements[load].conductors);
    join(wrong, {t, 0}, {load, 0}, sound.elements[load].conductors);
    for (site::State& state : wrong.states)
      if (!state.running.empty()) state.running.push_back(t);
    put(name(sound, load), std::move(wrong));
  }
}

// The source runs on one phase's neutral and lines, and its protective conductor hangs free.
void frame_not_earthed(const Site& sound, const Put& put) {
  for (std::size_t e = 0; e < sound.elements.size(); ++e) {
    const bool source = site::facts<Inverter>(sound.elements[e]) != nullptr ||
                        site::facts<Generator>(sound.elements[e]) != nullptr;
    if (!source) continue;
    Site wrong = sound;
    for (std::size_t r = 0; r < wrong.runs.size(); ++r)
      if (wrong.runs[r].from.element == e || wrong.runs[r].to.element == e)
        break_conductor(wrong, r, Conductor::pe);
    put(name(sound, e), std::move(wrong));
  }
}

constexpr std::array kinds{
    FaultKind{"generator with centre tap", centre_tapped},
    FaultKind{"generator on an inlet with an RCD of its own", own_rcd},
    FaultKind{"portable generator in place of a fixed one", portable},
    FaultKind{"socket-outlet in place of an inlet", socket_outlet},
    FaultKind{"reverse power relay left out", no_reverse_power_relay},
    FaultKind{"inverter pushes into the generator", pushes_into_the_generator},
    FaultKind{"other neutral of the inverter in island", other_island_neutral},
    FaultKind{"transfer contact of the inverter bridged", transfer_contact_bridged},
    FaultKind{"grid side and backup side exchanged", sides_exchanged},
    FaultKind{"source not held in step", not_held_in_step},
    FaultKind{"inverter does not synchronise", does_not_synchronise},
    FaultKind{"inverter synchronises at another contact", synchronises_elsewhere},
    FaultKind{"portable set joined to a bar by a switch", set_at_a_bar},
    FaultKind{"PV plugged into a circuit", solar_at_a_circuit},
    FaultKind{"frame of a source not earthed", frame_not_earthed},
};

}  // namespace

std::span<const FaultKind> source_faults() {
  return kinds;
}

}  // namespace linewright::tests
