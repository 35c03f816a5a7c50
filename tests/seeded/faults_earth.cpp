// Mistakes with earth: electrodes, protective conductors, PEN, the supply's own kind of earthing.
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using namespace linewright::unit;
using site::Conductor;
using site::Earthing;
using site::Electrode;
using site::Site;
using site::Supply;

void electrode_left_out(const Site& sound, const Put& put) {
  each<Electrode>(sound, [&](std::size_t e, const Electrode&) {
    Site wrong = sound;
    cut_off(wrong, e);
    put(name(sound, e), std::move(wrong));
  });
}

// 2 kΩ: a rod in dry gravel. At 30 mA that is 60 V, more than any profile allows, and at 300 mA
// 600 V. On a TN site no fault current comes home through the ground.
void electrode_too_high(const Site& sound, const Put& put) {
  each<Supply>(sound, [&](std::size_t, const Supply& supply) {
    const bool relied_on = supply.earthing == Earthing::tt;
    if (!relied_on) return;
    each<Electrode>(sound, [&](std::size_t e, const Electrode&) {
      Site wrong = sound;
      facts_of<Electrode>(wrong, e).resistance = 2.0 * kiloohm;
      put(name(sound, e), std::move(wrong));
    });
  });
}

// Broken where nothing else earths what hangs on it; of two cables to one inverter either will do.
void earth_broken(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    if (!sound.runs[r].cable || !sound.runs[r].conductors.has(Conductor::pe)) continue;
    Site wrong = sound;
    break_conductor(wrong, r, Conductor::pe);
    if (!all_earthed(wrong)) put(run_name(sound, r), std::move(wrong));
  }
}

// The circuit's metalwork stands on a rod that nothing joins to the main earthing terminal.
void rod_of_its_own(const Site& sound, const Put& put) {
  for (const std::size_t load : loads(sound)) {
    const std::size_t r = run_of_load(sound, load);
    if (r == site::none || !sound.runs[r].conductors.has(Conductor::pe)) continue;
    Site wrong = sound;
    break_conductor(wrong, r, Conductor::pe);
    const std::size_t rod =
        add_element(wrong, "-XE99", Electrode{.resistance = 20.0 * ohm, .type = {}, .measured = {}},
                    {"pe"}, {Conductor::pe});
    join(wrong, {load, 0}, {rod, 0}, {Conductor::pe});
    put(name(sound, load), std::move(wrong));
  }
}

void main_terminal_cut_off(const Site& sound, const Put& put) {
  each<site::MainEarthingTerminal>(sound, [&](std::size_t e, const auto&) {
    for (const std::size_t r : runs_at(sound, {e, 0})) {
      Site wrong = sound;
      wrong.runs.erase(wrong.runs.begin() + static_cast<std::ptrdiff_t>(r));
      put(run_name(sound, r), std::move(wrong));
    }
  });
}

// The cut-out brings a neutral where a PEN was told: what was divided is one neutral all along, and
// the supplier brings no earth.
void make_pen_a_neutral(Site& site) {
  const auto plain = [](site::Conductors& set) {
    if (!set.has(Conductor::pen)) return;
    set.remove(Conductor::pen);
    set.add(Conductor::n);
  };
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    plain(site.elements[e].conductors);
    if (site::facts<site::PenSplit>(site.elements[e]) != nullptr) bridge(site, e);
  }
  for (site::Run& run : site.runs)
    plain(run.conductors);
}

void told(const Site& sound, const Put& put, Earthing kind, std::string_view word) {
  each<Supply>(sound, [&](std::size_t e, const Supply& supply) {
    if (supply.earthing == kind) return;
    Site wrong = sound;
    facts_of<Supply>(wrong, e).earthing = kind;
    if (supply.earthing == Earthing::tn_c_s) make_pen_a_neutral(wrong);
    put(std::string(word), std::move(wrong));
  });
}

// The kind of earthing that was told at the desk is not the one at the cut-out.
void supply_is_tt(const Site& sound, const Put& put) {
  told(sound, put, Earthing::tt, "TT");
}

void supply_is_it(const Site& sound, const Put& put) {
  told(sound, put, Earthing::it, "IT");
}

// The supplier's earth has been taken off: what is left is the rod.
void suppliers_earth_taken_off(const Site& sound, const Put& put) {
  each<Supply>(sound, [&](std::size_t e, const Supply& supply) {
    if (supply.earthing != Earthing::tn_s) return;
    Site wrong = sound;
    facts_of<Supply>(wrong, e).earth_offered = false;
    for (const std::size_t r : runs_at(sound, {e, 0}))
      break_conductor(wrong, r, Conductor::pe);
    put(name(sound, e), std::move(wrong));
  });
}

// Where the PEN is divided, the strap to the earth bar was forgotten.
void pen_strap_left_out(const Site& sound, const Put& put) {
  each<site::PenSplit>(sound, [&](std::size_t e, const auto&) {
    Site wrong = sound;
    for (const std::size_t r : runs_at(sound, {e, 1}))
      break_conductor(wrong, r, Conductor::pe);
    put(name(sound, e), std::move(wrong));
  });
}

bool between_split_and_bar(const Site& site, std::size_t run, std::size_t split) {
  return site.runs[run].from == site::Terminal{split, 1};
}

// The PEN is carried on as far as the first bar and divided there: whatever stands between has it
// for its neutral.
void pen_divided_behind_the_switch(const Site& sound, const Put& put) {
  each<site::PenSplit>(sound, [&](std::size_t split, const auto&) {
    Site wrong = sound;
    std::size_t at = split;
    bool passed_a_switch = false;
    for (std::size_t step = 0; step < 8; ++step) {
      std::size_t next = site::none;
      for (std::size_t r = 0; r < wrong.runs.size(); ++r) {
        const bool onward =
            at == split ? between_split_and_bar(wrong, r, split) : wrong.runs[r].from.element == at;
        if (!onward) continue;
        next = r;
        break;
      }
      if (next == site::none) return;
      const std::size_t to = wrong.runs[next].to.element;
      if (site::facts<site::Busbar>(wrong.elements[to]) != nullptr) {
        if (!passed_a_switch) return;
        const site::Run down = wrong.runs[next];
        const std::size_t up = runs_at(sound, {split, 0}).front();
        // the split goes from the head of the chain to its end
        wrong.runs[next].to = {split, 0};
        wrong.runs[next].conductors = wrong.runs[up].conductors;
        join(wrong, {split, 1}, down.to, down.conductors);
        wrong.runs[up].to = {sound.runs[runs_at(sound, {split, 1}).front()].to};
        const std::size_t head = runs_at(sound, {split, 1}).front();
        wrong.runs.erase(wrong.runs.begin() + static_cast<std::ptrdiff_t>(head));
        put(name(sound, split) + " behind " + name(sound, at), std::move(wrong));
        return;
      }
      site::Conductors& through = wrong.elements[to].conductors;
      through = (through & site::lines) | site::Conductors{Conductor::pen};
      if (at != split) wrong.runs[next].conductors = through;
      if (wrong.elements[to].name != "Service fuse" &&
          site::facts<site::Device>(wrong.elements[to]) != nullptr)
        passed_a_switch = true;
      at = to;
    }
  });
}

void insulation_of_the_front_lost(const Site& sound, const Put& put) {
  each<Supply>(sound, [&](std::size_t, const Supply& supply) {
    if (supply.earthing != Earthing::tt) return;
    for (std::size_t r = 0; r < sound.runs.size(); ++r) {
      const auto& cable = sound.runs[r].cable;
      const bool ac = (sound.runs[r].conductors & site::direct_current).empty();
      if (!cable || cable->double_insulated != true || !ac) continue;
      Site wrong = sound;
      wrong.runs[r].cable->double_insulated = false;
      put(run_name(sound, r), std::move(wrong));
    }
  });
}

void pen_detection_left_out(const Site& sound, const Put& put) {
  each<site::LoadGroup>(sound, [&](std::size_t e, const site::LoadGroup& load) {
    if (!load.pen_detection) return;
    Site wrong = sound;
    facts_of<site::LoadGroup>(wrong, e).pen_detection = site::PenDetection::none;
    put(name(sound, e), std::move(wrong));
  });
}

constexpr std::array kinds{
    FaultKind{"electrode left out", electrode_left_out},
    FaultKind{"electrode too high", electrode_too_high},
    FaultKind{"protective conductor broken", earth_broken},
    FaultKind{"circuit on a rod of its own", rod_of_its_own},
    FaultKind{"main earthing terminal cut off", main_terminal_cut_off},
    FaultKind{"supply turns out to be TT", supply_is_tt},
    FaultKind{"supply turns out to be IT", supply_is_it},
    FaultKind{"supplier's earth taken off", suppliers_earth_taken_off},
    FaultKind{"strap at the division of the PEN left out", pen_strap_left_out},
    FaultKind{"PEN divided behind a switch", pen_divided_behind_the_switch},
    FaultKind{"double insulation ahead of the first RCD lost", insulation_of_the_front_lost},
    FaultKind{"detection of a broken PEN left out", pen_detection_left_out},
};

}  // namespace

std::span<const FaultKind> earth_faults() {
  return kinds;
}

}  // namespace linewright::tests
