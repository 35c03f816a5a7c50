// Mistakes with the joint of neutral and earth.
#include <algorithm>
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Bond;
using site::BondContact;
using site::Conductor;
using site::Generator;
using site::Inverter;
using site::NeutralLink;
using site::Site;

template <class T, class Change>
void each_of(const Site& sound, const Put& put, Change change) {
  each<T>(sound, [&](std::size_t e, const T&) {
    Site wrong = sound;
    if (change(facts_of<T>(wrong, e))) put(name(sound, e), std::move(wrong));
  });
}

bool makes_it(const Inverter& inverter) {
  return inverter.bond == BondContact::closes_in_island;
}

void left_out(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond&) {
    Site wrong = sound;
    cut_off(wrong, e);
    put(name(sound, e), std::move(wrong));
  });
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    if (!makes_it(inverter)) return false;
    inverter.bond = BondContact::absent;
    return true;
  });
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.neutral != NeutralLink::fixed) return false;
    generator.neutral = NeutralLink::none;
    return true;
  });
}

void switched_off(const Site& sound, const Put& put) {
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    if (!makes_it(inverter)) return false;
    inverter.bond = BondContact::stays_open;
    return true;
  });
}

void second_source_makes_one(const Site& sound, const Put& put) {
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    if (inverter.forming != site::Forming::grid_forming || makes_it(inverter)) return false;
    inverter.bond = BondContact::closes_in_island;
    inverter.bond_rests_closed = false;
    return true;
  });
  each_of<Generator>(sound, put, [](Generator& generator) {
    if (generator.neutral != NeutralLink::none) return false;
    generator.neutral = NeutralLink::fixed;
    return true;
  });
}

void always_closed(const Site& sound, const Put& put) {
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    inverter.bond = BondContact::always_closed;
    return true;
  });
}

void fixed_in_place_of_contact(const Site& sound, const Put& put) {
  each_of<Bond>(sound, put, [](Bond& bond) {
    if (!bond.contact) return false;
    bond = Bond{.contact = false};
    return true;
  });
}

// A strap left in, at every bar.
void strap_at_a_bar(const Site& sound, const Put& put) {
  for (const std::size_t bar : busbars(sound)) {
    Site wrong = sound;
    add_bond(wrong, {bar, 0}, {.contact = false});
    put(name(sound, bar), std::move(wrong));
  }
}

// The neutral lands on the earth bar, at every circuit.
void joined_at_a_load(const Site& sound, const Put& put) {
  for (const std::size_t load : loads(sound)) {
    if (!sound.elements[load].conductors.has(Conductor::n) ||
        !sound.elements[load].conductors.has(Conductor::pe))
      continue;
    Site wrong = sound;
    add_bond(wrong, {load, 0}, {.contact = false});
    put(name(sound, load), std::move(wrong));
  }
}

// A strap at the terminals of a source that has none to make.
void strap_at_a_source(const Site& sound, const Put& put) {
  for (std::size_t e = 0; e < sound.elements.size(); ++e) {
    const bool source = site::facts<Inverter>(sound.elements[e]) != nullptr ||
                        site::facts<Generator>(sound.elements[e]) != nullptr;
    if (!source) continue;
    for (const char* terminal : {"out", "ac", "backup"}) {
      const std::size_t t = sound.find_terminal(e, terminal);
      if (t == site::none) continue;
      Site wrong = sound;
      add_bond(wrong, {e, t}, {.contact = false});
      put(name(sound, e) + ":" + terminal, std::move(wrong));
    }
  }
}

// The contact that joins them in island lands on another bar.
void at_another_bar(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond&) {
    for (const std::size_t r : runs_at(sound, {e, 0}))
      for (const std::size_t bar : busbars(sound)) {
        if (other_end(sound.runs[r], e).element == bar) continue;
        Site wrong = sound;
        site::Run& run = wrong.runs[r];
        end_at(run, other_end(run, e).element) = {bar, 0};
        put(name(sound, e) + " at " + name(sound, bar), std::move(wrong));
      }
  });
}

void rests_the_other_way(const Site& sound, const Put& put) {
  each_of<Bond>(sound, put, [](Bond& bond) {
    if (!bond.contact || !bond.rest) return false;
    bond.rest = *bond.rest == "closed" ? "open" : "closed";
    return true;
  });
  each_of<Inverter>(sound, put, [](Inverter& inverter) {
    if (!makes_it(inverter) || !inverter.bond_rests_closed) return false;
    inverter.bond_rests_closed = !*inverter.bond_rests_closed;
    return true;
  });
}

void made_for_a_coil(const Site& sound, const Put& put) {
  each_of<Bond>(sound, put, [](Bond& bond) {
    if (!bond.contact) return false;
    bond.power_contact = false;
    return true;
  });
}

void too_thin(const Site& sound, const Put& put) {
  each_of<Bond>(sound, put, [](Bond& bond) {
    bond.cross_section = 1.0 * unit::mm2;
    return true;
  });
}

// The lever that keeps bond contact and grid contactor apart is left out with what proves it.
void not_proved(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    if (!bond.contact) return;
    Site wrong = sound;
    facts_of<Bond>(wrong, e).proved_by = std::vector<std::size_t>{};
    std::erase_if(wrong.interlocks, [&](const site::Interlock& i) { return names(i, e); });
    put(name(sound, e), std::move(wrong));
  });
}

void proved_by_another(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    if (!bond.contact || !bond.proved_by) return;
    each<site::Device>(sound, [&](std::size_t q, const site::Device&) {
      if (!is_moved(sound, q) || std::ranges::count(*bond.proved_by, q) > 0) return;
      Site wrong = sound;
      facts_of<Bond>(wrong, e).proved_by = std::vector{q};
      std::erase_if(wrong.interlocks, [&](const site::Interlock& i) { return names(i, e); });
      put(name(sound, e) + " by " + name(sound, q), std::move(wrong));
    });
  });
}

/// Whether an inverter runs in the state of that name; else the bar of its bond contact is dead.
bool inverter_runs(const Site& site, const std::string& name) {
  for (const site::State& state : site.states)
    if (state.name == name)
      return std::ranges::any_of(state.running, [&](std::size_t source) {
        return site::facts<Inverter>(site.elements[source]) != nullptr;
      });
  return false;
}

void closed_in_more_states(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    for (const site::State& state : sound.states) {
      if (!bond.contact || !inverter_runs(sound, state.name) ||
          std::ranges::count(bond.closed_in, state.name) > 0)
        continue;
      Site wrong = sound;
      facts_of<Bond>(wrong, e).closed_in.push_back(state.name);
      put(name(sound, e) + " in " + state.name, std::move(wrong));
    }
  });
}

void closed_in_fewer_states(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    for (const std::string& state : bond.closed_in) {
      if (!inverter_runs(sound, state)) continue;
      Site wrong = sound;
      std::erase(facts_of<Bond>(wrong, e).closed_in, state);
      put(name(sound, e) + " in " + state, std::move(wrong));
    }
  });
}

constexpr std::array kinds{
    FaultKind{"bond left out", left_out},
    FaultKind{"inner bond switched off", switched_off},
    FaultKind{"second source makes a bond too", second_source_makes_one},
    FaultKind{"inner bond always closed", always_closed},
    FaultKind{"strap in place of a bond contact", fixed_in_place_of_contact},
    FaultKind{"strap of neutral and earth at a bar", strap_at_a_bar},
    FaultKind{"neutral and earth joined at a load", joined_at_a_load},
    FaultKind{"strap of neutral and earth at a source", strap_at_a_source},
    FaultKind{"bond at another bar", at_another_bar},
    FaultKind{"bond rests the other way", rests_the_other_way},
    FaultKind{"bond contact made for a coil", made_for_a_coil},
    FaultKind{"bond conductor too thin", too_thin},
    FaultKind{"bond not proved by the opening of the grid", not_proved},
    FaultKind{"bond proved by another contact", proved_by_another},
    FaultKind{"bond closed in one state more", closed_in_more_states},
    FaultKind{"bond closed in one state less", closed_in_fewer_states},
};

}  // namespace

std::span<const FaultKind> bond_faults() {
  return kinds;
}

}  // namespace linewright::tests
