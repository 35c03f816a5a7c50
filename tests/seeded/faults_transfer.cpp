// Mistakes with changeovers, contactors and interlocks.
#include <algorithm>
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Device;
using site::DeviceKind;
using site::Interlock;
using site::InterlockMeans;
using site::Site;

template <class Change>
void each_changeover(const Site& sound, const Put& put, Change change) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (device.kind != DeviceKind::changeover) return;
    Site wrong = sound;
    if (change(wrong, e)) put(name(sound, e), std::move(wrong));
  });
}

std::string words(const Site& site, const Interlock& interlock) {
  std::string text;
  for (const site::PositionOf& p : interlock.never_together)
    text += (text.empty() ? "" : " and ") + name(site, p.element) + " " + p.position;
  return text;
}

void interlock_left_out(const Site& sound, const Put& put) {
  for (std::size_t i = 0; i < sound.interlocks.size(); ++i) {
    if (!stands_alone(sound, sound.interlocks[i])) continue;
    Site wrong = sound;
    wrong.interlocks.erase(wrong.interlocks.begin() + static_cast<std::ptrdiff_t>(i));
    put(words(sound, sound.interlocks[i]), std::move(wrong));
  }
}

void interlock_by(const Site& sound, const Put& put, InterlockMeans means) {
  for (std::size_t i = 0; i < sound.interlocks.size(); ++i) {
    if (!stands_alone(sound, sound.interlocks[i])) continue;
    Site wrong = sound;
    wrong.interlocks[i].means = means;
    put(words(sound, sound.interlocks[i]), std::move(wrong));
  }
}

void interlock_by_program(const Site& sound, const Put& put) {
  interlock_by(sound, put, InterlockMeans::control);
}

void interlock_by_wires(const Site& sound, const Put& put) {
  interlock_by(sound, put, InterlockMeans::electrical);
}

// The lever keeps another position away than it should.
void interlock_at_another_position(const Site& sound, const Put& put) {
  for (std::size_t i = 0; i < sound.interlocks.size(); ++i)
    for (std::size_t p = 0; p < sound.interlocks[i].never_together.size(); ++p) {
      if (!stands_alone(sound, sound.interlocks[i])) break;
      const site::PositionOf& at = sound.interlocks[i].never_together[p];
      const auto* device = site::facts<Device>(sound.elements[at.element]);
      std::vector<std::string> positions{"open", "closed"};
      if (device != nullptr && device->kind == DeviceKind::changeover) {
        positions.clear();
        for (const site::Throw& side : device->throws)
          positions.push_back(side.position);
      }
      for (const std::string& other : positions) {
        if (other == at.position) continue;
        Site wrong = sound;
        wrong.interlocks[i].never_together[p].position = other;
        put(words(sound, sound.interlocks[i]) + ", " + name(sound, at.element) + " " + other,
            std::move(wrong));
      }
    }
}

void makes_before_break(const Site& sound, const Put& put) {
  each_changeover(sound, put, [](Site& wrong, std::size_t e) {
    facts_of<Device>(wrong, e).break_before_make = false;
    return true;
  });
}

// Each throw becomes a switch of its own; the common becomes a bar.
void two_switches(const Site& sound, const Put& put) {
  each_changeover(sound, put, [](Site& wrong, std::size_t e) {
    const Device changeover = facts_of<Device>(wrong, e);
    const site::Element old = wrong.elements[e];
    const std::size_t common = wrong.find_terminal(e, "common");
    for (const site::Throw& side : changeover.throws) {
      if (side.terminal.empty()) continue;
      Device one = changeover;
      one.kind = DeviceKind::switch_disconnector;
      one.rest = "open";
      one.throws.clear();
      one.break_before_make.reset();
      if (one.without_power) one.without_power = "open";
      const std::size_t q =
          add_element(wrong, old.designation + side.position, one, {"1", "2"}, old.conductors);
      wrong.elements[q].assembly = old.assembly;
      const std::size_t t = wrong.find_terminal(e, side.terminal);
      for (site::Run& run : wrong.runs)
        for (site::Terminal* end : {&run.from, &run.to})
          if (*end == site::Terminal{e, t}) *end = {q, 0};
      join(wrong, {q, 1}, {e, common}, old.conductors);
      for (site::State& state : wrong.states)
        for (std::size_t p = 0; p < state.positions.size(); ++p)
          if (state.positions[p].element == e && state.positions[p].position == side.position)
            state.positions.push_back({q, "", "closed", {}});
    }
    bridge(wrong, e);
    return true;
  });
}

void throws_exchanged(const Site& sound, const Put& put) {
  each_changeover(sound, put, [](Site& wrong, std::size_t e) {
    const std::size_t one = wrong.find_terminal(e, "I");
    const std::size_t two = wrong.find_terminal(e, "II");
    for (site::Run& run : wrong.runs)
      for (site::Terminal* end : {&run.from, &run.to})
        if (end->element == e && (end->terminal == one || end->terminal == two))
          end->terminal = end->terminal == one ? two : one;
    return true;
  });
}

// What lands on a throw is led on to another throw of another changeover: the bypass taken from
// the generator's side, from ahead of the transfer, from the inverters.
void fed_from_another_throw(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (device.kind != DeviceKind::changeover) return;
    each<Device>(sound, [&](std::size_t other, const Device& from) {
      if (other == e || from.kind != DeviceKind::changeover) return;
      for (const site::Throw& side : device.throws)
        for (const site::Throw& there : from.throws) {
          if (side.terminal.empty() || there.terminal.empty()) continue;
          const site::Terminal at{e, sound.find_terminal(e, side.terminal)};
          const auto landed = runs_at(sound, at);
          if (landed.size() != 1) continue;
          Site wrong = sound;
          site::Run& run = wrong.runs[landed.front()];
          const site::Terminal source{other, sound.find_terminal(other, there.terminal)};
          if (run.cable || run.from == source || run.to == source) continue;
          (run.from == at ? run.to : run.from) = source;
          put(name(sound, e) + ":" + side.terminal + " from " + name(sound, other) + ":" +
                  there.terminal,
              std::move(wrong));
        }
    });
  });
}

// Joined through, as if it stood closed for good: a link left in, a contact welded.
void switch_bridged(const Site& sound, const Put& put) {
  for (std::size_t e = 0; e < sound.elements.size(); ++e) {
    if (!on_ac_side(sound, e) || !two_ended(sound, e) || !is_moved(sound, e)) continue;
    Site wrong = sound;
    bridge(wrong, e);
    put(name(sound, e), std::move(wrong));
  }
}

void changeover_bridged(const Site& sound, const Put& put) {
  each_changeover(sound, put, [](Site& wrong, std::size_t e) {
    bridge(wrong, e);
    return true;
  });
}

// A contactor of another make, with neither mirror contact nor a lever to the bond contact.
void proves_nothing(const Site& sound, const Put& put) {
  each<site::Bond>(sound, [&](std::size_t e, const site::Bond& bond) {
    if (!bond.proved_by) return;
    for (const std::size_t q : *bond.proved_by) {
      if (!two_ended(sound, q)) continue;  // an inverter answers for its own contact
      Site wrong = sound;
      facts_of<Device>(wrong, q).feedback = false;
      std::erase_if(wrong.interlocks, [&](const Interlock& i) { return names(i, e); });
      put(name(sound, q), std::move(wrong));
    }
  });
}

// The coil of another make: it stays where the last command left it, or falls to the other side.
void closes_without_power(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (device.operation != site::Operation::controller || !is_moved(sound, e)) return;
    Site wrong = sound;
    facts_of<Device>(wrong, e).without_power =
        device.kind == DeviceKind::changeover ? "II" : "closed";
    put(name(sound, e), std::move(wrong));
  });
}

constexpr std::array kinds{
    FaultKind{"interlock left out", interlock_left_out},
    FaultKind{"interlock by program only", interlock_by_program},
    FaultKind{"interlock by wires only", interlock_by_wires},
    FaultKind{"interlock at another position", interlock_at_another_position},
    FaultKind{"changeover that makes before it breaks", makes_before_break},
    FaultKind{"two switches in place of a changeover", two_switches},
    FaultKind{"throws of a changeover exchanged", throws_exchanged},
    FaultKind{"throw fed from another changeover's throw", fed_from_another_throw},
    FaultKind{"switch bridged", switch_bridged},
    FaultKind{"changeover bridged", changeover_bridged},
    FaultKind{"contact without feedback", proves_nothing},
    FaultKind{"closes when its coil loses power", closes_without_power},
};

}  // namespace

std::span<const FaultKind> transfer_faults() {
  return kinds;
}

}  // namespace linewright::tests
