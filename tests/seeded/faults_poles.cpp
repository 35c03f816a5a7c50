// Devices with the wrong poles, and with poles that move at the wrong time.
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Conductor;
using site::Device;
using site::DeviceKind;
using site::Site;

template <class Change>
void each_device(const Site& sound, const Put& put, Change change) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!on_ac_side(sound, e) || !device.poles) return;
    Site wrong = sound;
    if (change(wrong.elements[e], facts_of<Device>(wrong, e)))
      put(name(sound, e), std::move(wrong));
  });
}

template <class Which>
void leave_neutral_closed(const Site& sound, const Put& put, Which which) {
  each_device(sound, put, [&](const site::Element&, Device& device) {
    if (!device.poles->neutral || !which(device)) return false;
    device.poles->neutral = false;
    return true;
  });
}

void changeover_leaves_it(const Site& sound, const Put& put) {
  leave_neutral_closed(sound, put,
                       [](const Device& device) { return device.kind == DeviceKind::changeover; });
}

void contactor_leaves_it(const Site& sound, const Put& put) {
  leave_neutral_closed(sound, put,
                       [](const Device& device) { return device.kind == DeviceKind::contactor; });
}

// Switches that states move; what only serves for work on a dead part may leave it closed.
void switch_leaves_it(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (device.kind != DeviceKind::switch_disconnector || !is_moved(sound, e) ||
        !parts_supply_from_forming(sound, e) || !device.poles->neutral)
      return;
    Site wrong = sound;
    facts_of<Device>(wrong, e).poles->neutral = false;
    put(name(sound, e), std::move(wrong));
  });
}

// Asked where the supply's neutral is far from earth; on TN a neutral may stay closed there.
void rcd_leaves_it(const Site& sound, const Put& put) {
  each<site::Supply>(sound, [&](std::size_t, const site::Supply& supply) {
    if (supply.earthing != site::Earthing::tt) return;
    leave_neutral_closed(sound, put,
                         [](const Device& device) { return device.residual.has_value(); });
  });
}

// Where one link serves the supply and what runs without it: whatever lies between may open by
// itself, and takes the link away from a source that goes on.
void neutral_opened(const Site& sound, const Put& put) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!on_ac_side(sound, e) || !device.poles || device.poles->neutral) return;
    const site::Conductors& through = sound.elements[e].conductors;
    const bool pen = through.has(Conductor::pen);
    if (!pen && !(through.has(Conductor::n) && parts_supply_from_forming(sound, e))) return;
    Site wrong = sound;
    facts_of<Device>(wrong, e).poles->neutral = true;
    put(name(sound, e), std::move(wrong));
  });
}

void neutral_moves_apart(const Site& sound, const Put& put) {
  each_device(sound, put, [](const site::Element&, Device& device) {
    const bool transfers =
        device.kind == DeviceKind::changeover || device.kind == DeviceKind::contactor;
    if (!transfers || !device.poles->neutral) return false;
    device.neutral_timing = site::NeutralTiming::separate;
    return true;
  });
}

void one_line_left_closed(const Site& sound, const Put& put) {
  each_device(sound, put, [](const site::Element&, Device& device) {
    const bool transfers =
        device.kind == DeviceKind::changeover || device.kind == DeviceKind::contactor;
    if (!transfers || device.poles->line_poles < 3) return false;
    device.poles->line_poles -= 1;
    return true;
  });
}

// A fuse in the neutral core of a feeder, as old boards have it.
void fuse_in_the_neutral(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    const site::Run& run = sound.runs[r];
    if (!run.cable || !run.conductors.has(Conductor::n) || (run.conductors & site::lines).empty())
      continue;
    Site wrong = sound;
    Device fuse{.kind = DeviceKind::fuse, .poles = site::Poles{1, false, "1P"}};
    const std::size_t e = add_element(wrong, "-F99", std::move(fuse), {"1", "2"}, {Conductor::n});
    wrong.runs[r].conductors.remove(Conductor::n);
    join(wrong, run.from, {e, 0}, {Conductor::n});
    join(wrong, {e, 1}, run.to, {Conductor::n});
    put(run_name(sound, r), std::move(wrong));
  }
}

// A switch in the protective conductor.
void switch_in_the_earth(const Site& sound, const Put& put) {
  for (std::size_t r = 0; r < sound.runs.size(); ++r) {
    const site::Run& run = sound.runs[r];
    if (!run.cable || !run.conductors.has(Conductor::pe)) continue;
    Site wrong = sound;
    Device link{.kind = DeviceKind::switch_disconnector, .poles = site::Poles{1, false, "1P"}};
    const std::size_t e = add_element(wrong, "-Q99", std::move(link), {"1", "2"}, {Conductor::pe});
    wrong.runs[r].conductors.remove(Conductor::pe);
    join(wrong, run.from, {e, 0}, {Conductor::pe});
    join(wrong, {e, 1}, run.to, {Conductor::pe});
    put(run_name(sound, r), std::move(wrong));
  }
}

constexpr std::array kinds{
    FaultKind{"changeover leaves the neutral closed", changeover_leaves_it},
    FaultKind{"contactor leaves the neutral closed", contactor_leaves_it},
    FaultKind{"switch leaves the neutral closed", switch_leaves_it},
    FaultKind{"RCD leaves the neutral closed", rcd_leaves_it},
    FaultKind{"neutral opened that has to stay joined", neutral_opened},
    FaultKind{"neutral pole moves by itself", neutral_moves_apart},
    FaultKind{"one line left closed", one_line_left_closed},
    FaultKind{"fuse in the neutral", fuse_in_the_neutral},
    FaultKind{"switch in the protective conductor", switch_in_the_earth},
};

}  // namespace

std::span<const FaultKind> pole_faults() {
  return kinds;
}

}  // namespace linewright::tests
