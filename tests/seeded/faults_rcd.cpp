// Mistakes with residual-current devices.
#include <algorithm>
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using namespace linewright::unit;
using site::Conductor;
using site::Device;
using site::DeviceKind;
using site::Site;

template <class Change>
void each_rcd(const Site& sound, const Put& put, Change change) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!device.residual) return;
    Site wrong = sound;
    if (change(e, facts_of<Device>(wrong, e))) put(name(sound, e), std::move(wrong));
  });
}

/// Whether a touch of this circuit relies on a fast RCD of 30 mA: sockets, lights of dwellings,
/// bathrooms, outdoors, charge points (IEC 60364-4-41 411.3.3 and 411.3.4), and every circuit of a
/// dwelling where the country asks it (FR, AU).
bool asks_fast(const Site& site, std::size_t load) {
  using site::Use;
  const auto& facts = std::get<site::LoadGroup>(site.elements[load].facts);
  const bool by_use = facts.use == Use::sockets || facts.use == Use::bathroom ||
                      facts.use == Use::outdoors || facts.use == Use::ev ||
                      facts.outdoors == true || (facts.use == Use::lighting && facts.dwelling);
  return by_use || (facts.dwelling && (site.profile == "FR" || site.profile == "AU"));
}

/// Whether it relies on an RCD of any kind: also what an inverter feeds, which no breaker clears.
bool asks_any(const Site& site, std::size_t load) {
  return asks_fast(site, load) || service_of(site, load) == site::Service::backup;
}

template <class Asks>
bool any_behind(const Site& site, std::size_t device, Asks asks) {
  return std::ranges::any_of(loads_behind(site, device),
                             [&](std::size_t load) { return asks(site, load); });
}

void left_out(const Site& sound, const Put& put) {
  each_rcd(sound, put, [&](std::size_t e, Device& device) {
    if (!any_behind(sound, e, asks_any)) return false;
    device.kind =
        device.kind == DeviceKind::rcd ? DeviceKind::switch_disconnector : DeviceKind::breaker;
    device.residual.reset();
    return true;
  });
}

void type_ac(const Site& sound, const Put& put) {
  each_rcd(sound, put, [](std::size_t, Device& device) {
    device.residual->type = site::ResidualType::ac;
    return true;
  });
}

/// Circuits with a device of their own that detects 6 mA DC: type A will do there.
bool detects_dc_itself(const Site& site, std::size_t device) {
  for (const std::size_t load : loads(site))
    if (device_of_load(site, load) == device &&
        std::get<site::LoadGroup>(site.elements[load].facts).dc_detection_6ma == true)
      return true;
  return false;
}

void type_a_for_b(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!device.residual || device.residual->type != site::ResidualType::b ||
        detects_dc_itself(sound, e))
      return;
    Site wrong = sound;
    facts_of<Device>(wrong, e).residual->type = site::ResidualType::a;
    put(name(sound, e), std::move(wrong));
  });
}

void ten_times_the_current(const Site& sound, const Put& put) {
  each_rcd(sound, put, [&](std::size_t e, Device& device) {
    if (!any_behind(sound, e, asks_fast)) return false;
    device.residual->operating_current = *device.residual->operating_current * 10.0;
    return true;
  });
}

bool is_selective(const Device& device) {
  return device.residual->delay == site::ResidualDelay::selective;
}

void upper_one_of_30_ma(const Site& sound, const Put& put) {
  each_rcd(sound, put, [](std::size_t, Device& device) {
    if (!is_selective(device)) return false;
    device.residual->operating_current = 30.0 * milliampere;
    return true;
  });
}

void delay_left_out(const Site& sound, const Put& put) {
  each_rcd(sound, put, [](std::size_t, Device& device) {
    if (!is_selective(device)) return false;
    device.residual->delay = site::ResidualDelay::general;
    return true;
  });
}

void delayed_on_a_circuit(const Site& sound, const Put& put) {
  each_rcd(sound, put, [&](std::size_t e, Device& device) {
    if (is_selective(device) || !any_behind(sound, e, asks_fast)) return false;
    device.residual->delay = site::ResidualDelay::selective;
    return true;
  });
}

// The neutral lands on the bar ahead of the device: its core sees the lines alone.
void neutral_past_the_core(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!device.residual || device.kind == DeviceKind::changeover) return;
    const auto above = runs_at(sound, {e, 0});
    const auto below = runs_at(sound, {e, 1});
    if (above.empty()) return;
    Site wrong = sound;
    wrong.elements[e].conductors.remove(Conductor::n);
    facts_of<Device>(wrong, e).poles->neutral = false;
    const site::Terminal bar = other_end(sound.runs[above.front()], e);
    wrong.runs[above.front()].conductors.remove(Conductor::n);
    for (const std::size_t r : below) {
      wrong.runs[r].conductors.remove(Conductor::n);
      join(wrong, bar, other_end(sound.runs[r], e), {Conductor::n});
    }
    put(name(sound, e), std::move(wrong));
  });
}

// Terminals that are one with the load side of a device: itself and a bar that it feeds directly.
std::vector<site::Terminal> load_side(const Site& site, std::size_t device) {
  std::vector<site::Terminal> side{{device, 1}};
  for (const std::size_t r : runs_at(site, {device, 1}))
    if (const site::Terminal far = other_end(site.runs[r], device);
        site::facts<site::Busbar>(site.elements[far.element]) != nullptr)
      side.push_back(far);
  return side;
}

// What is fed from behind a device with RCD lands ahead of it.
void landed_ahead(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!device.residual || device.kind == DeviceKind::changeover) return;
    for (const site::Terminal& side : load_side(sound, e))
      for (std::size_t r = 0; r < sound.runs.size(); ++r) {
        const site::Run& run = sound.runs[r];
        const bool goes_down = run.from == side && run.conductors.has(Conductor::n);
        if (!goes_down || site::facts<Device>(sound.elements[run.to.element]) == nullptr ||
            !any_behind(sound, run.to.element, asks_any))
          continue;
        Site wrong = sound;
        wrong.runs[r].from = {e, 0};
        put(run_name(sound, r) + " ahead of " + name(sound, e), std::move(wrong));
      }
  });
}

// Of devices with a source on either side; elsewhere energy never turns round.
void one_way(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!on_ac_side(sound, e) || device.direction != site::FeedDirection::two_way ||
        !between_sources(sound, e))
      return;
    Site wrong = sound;
    facts_of<Device>(wrong, e).direction = site::FeedDirection::one_way;
    put(name(sound, e), std::move(wrong));
  });
}

void dc_detection_left_out(const Site& sound, const Put& put) {
  each<site::LoadGroup>(sound, [&](std::size_t e, const site::LoadGroup& load) {
    if (load.dc_detection_6ma != true) return;
    const std::size_t device = device_of_load(sound, e);
    if (std::get<Device>(sound.elements[device].facts).residual->type == site::ResidualType::b)
      return;
    Site wrong = sound;
    facts_of<site::LoadGroup>(wrong, e).dc_detection_6ma = false;
    put(name(sound, e), std::move(wrong));
  });
}

// What is not known of it may be as bad as none.
void current_not_said(const Site& sound, const Put& put) {
  each_rcd(sound, put, [&](std::size_t e, Device& device) {
    device.residual->operating_current.reset();
    return any_behind(sound, e, asks_fast);
  });
}

constexpr std::array kinds{
    FaultKind{"RCD left out", left_out},
    FaultKind{"RCD of type AC", type_ac},
    FaultKind{"RCD of type A in place of B", type_a_for_b},
    FaultKind{"RCD of ten times the residual current", ten_times_the_current},
    FaultKind{"residual current of an RCD not said", current_not_said},
    FaultKind{"upper RCD of 30 mA", upper_one_of_30_ma},
    FaultKind{"delay of the upper RCD left out", delay_left_out},
    FaultKind{"delayed RCD on a circuit", delayed_on_a_circuit},
    FaultKind{"neutral led past the RCD", neutral_past_the_core},
    FaultKind{"landed ahead of the RCD", landed_ahead},
    FaultKind{"one-way device in place of a two-way one", one_way},
    FaultKind{"DC detection of a charge point left out", dc_detection_left_out},
};

}  // namespace

std::span<const FaultKind> rcd_faults() {
  return kinds;
}

}  // namespace linewright::tests
