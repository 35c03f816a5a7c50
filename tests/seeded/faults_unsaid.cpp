// Facts that the file leaves out. What is not known must be asked for, and never pass.
#include <array>
#include <utility>

#include "seeded/fault_kinds.hpp"
#include "seeded/wiring.hpp"

namespace linewright::tests {
namespace {

using site::Bond;
using site::Device;
using site::Generator;
using site::Inverter;
using site::Site;
using site::Supply;

// Forgets one optional fact wherever it is given.
template <class T, class Fact>
void forget(const Site& sound, const Put& put, Fact fact) {
  each<T>(sound, [&](std::size_t e, const T& facts) {
    T less = facts;
    if (!(less.*fact)) return;
    (less.*fact).reset();
    Site wrong = sound;
    facts_of<T>(wrong, e) = std::move(less);
    put(name(sound, e), std::move(wrong));
  });
}

// The same of the devices of the AC side for which `asks` is true.
template <class Fact, class Asked>
void forget_of_device(const Site& sound, const Put& put, Fact fact, Asked asked) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!on_ac_side(sound, e) || !(device.*fact) || !asked(e, device)) return;
    Site wrong = sound;
    (facts_of<Device>(wrong, e).*fact).reset();
    put(name(sound, e), std::move(wrong));
  });
}

void poles(const Site& sound, const Put& put) {
  forget_of_device(sound, put, &Device::poles, [](std::size_t, const Device&) { return true; });
}

// A plain breaker has nothing in it that a feed from below could burn.
void direction(const Site& sound, const Put& put) {
  forget_of_device(sound, put, &Device::direction,
                   [](std::size_t, const Device& device) { return device.residual.has_value(); });
}

// A contactor tells by what it is that a coil moves it, a switch that a hand does.
void who_moves_it(const Site& sound, const Put& put) {
  forget_of_device(sound, put, &Device::operation, [](std::size_t, const Device& device) {
    return device.kind == site::DeviceKind::changeover;
  });
}

void without_power(const Site& sound, const Put& put) {
  forget_of_device(sound, put, &Device::without_power,
                   [](std::size_t, const Device&) { return true; });
}

// Of a contact that proves the grid open, where no lever does it as well.
void feedback(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    if (!bond.proved_by) return;
    for (const std::size_t q : *bond.proved_by) {
      if (!two_ended(sound, q)) continue;  // an inverter answers for its own contact
      Site wrong = sound;
      facts_of<Device>(wrong, q).feedback.reset();
      std::erase_if(wrong.interlocks, [&](const site::Interlock& i) { return names(i, e); });
      put(name(sound, q), std::move(wrong));
    }
  });
}

template <class Fact>
void forget_of_rcd(const Site& sound, const Put& put, Fact fact) {
  each<Device>(sound, [&](std::size_t e, const Device& device) {
    if (!device.residual || !((*device.residual).*fact)) return;
    Site wrong = sound;
    ((*facts_of<Device>(wrong, e).residual).*fact).reset();
    put(name(sound, e), std::move(wrong));
  });
}

void rcd_type(const Site& sound, const Put& put) {
  forget_of_rcd(sound, put, &site::Residual::type);
}

void rcd_delay(const Site& sound, const Put& put) {
  forget_of_rcd(sound, put, &site::Residual::delay);
}

void supply_earthing(const Site& sound, const Put& put) {
  forget<Supply>(sound, put, &Supply::earthing);
}

void electrode_resistance(const Site& sound, const Put& put) {
  each<Supply>(sound, [&](std::size_t, const Supply& supply) {
    if (supply.earthing == site::Earthing::tt)
      forget<site::Electrode>(sound, put, &site::Electrode::resistance);
  });
}

void generator_neutral(const Site& sound, const Put& put) {
  forget<Generator>(sound, put, &Generator::neutral);
}

/// Generators that are plugged in, or of which the file does not say that they are not.
template <class Fact>
void forget_of_portable(const Site& sound, const Put& put, Fact fact) {
  each<Generator>(sound, [&](std::size_t e, const Generator& generator) {
    if (generator.fixed == true || !(generator.*fact)) return;
    Site wrong = sound;
    (facts_of<Generator>(wrong, e).*fact).reset();
    put(name(sound, e), std::move(wrong));
  });
}

void generator_winding(const Site& sound, const Put& put) {
  forget_of_portable(sound, put, &Generator::winding);
}

void generator_own_rcd(const Site& sound, const Put& put) {
  forget_of_portable(sound, put, &Generator::own_rcd);
}

// What stands behind an inlet is plugged in, whether the file says so or not.
void generator_fixed(const Site& sound, const Put& put) {
  each<Generator>(sound, [&](std::size_t e, const Generator& generator) {
    if (generator.fixed != true) return;
    Site wrong = sound;
    facts_of<Generator>(wrong, e).fixed.reset();
    put(name(sound, e), std::move(wrong));
  });
}

void generator_reverse_power(const Site& sound, const Put& put) {
  forget<Generator>(sound, put, &Generator::reverse_power_relay);
}

void inverter_bond(const Site& sound, const Put& put) {
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (!inverter.bond || inverter.forming != site::Forming::grid_forming) return;
    Site wrong = sound;
    facts_of<Inverter>(wrong, e).bond.reset();
    put(name(sound, e), std::move(wrong));
  });
}

void inverter_bond_rest(const Site& sound, const Put& put) {
  each<Inverter>(sound, [&](std::size_t e, const Inverter& inverter) {
    if (!inverter.bond_rests_closed || inverter.bond != site::BondContact::closes_in_island) return;
    Site wrong = sound;
    facts_of<Inverter>(wrong, e).bond_rests_closed.reset();
    put(name(sound, e), std::move(wrong));
  });
}

void inverter_island_neutral(const Site& sound, const Put& put) {
  forget<Inverter>(sound, put, &Inverter::island_neutral);
}

void bond_rest(const Site& sound, const Put& put) {
  forget<Bond>(sound, put, &Bond::rest);
}

// Of a contact that no lever holds; what is forgotten with the lever is a kind of its own.
void bond_proof(const Site& sound, const Put& put) {
  each<Bond>(sound, [&](std::size_t e, const Bond& bond) {
    if (!bond.proved_by) return;
    Site wrong = sound;
    facts_of<Bond>(wrong, e).proved_by.reset();
    for (site::Interlock& interlock : wrong.interlocks)
      if (names(interlock, e)) interlock.means = site::InterlockMeans::unknown;
    put(name(sound, e), std::move(wrong));
  });
}

void interlock_means(const Site& sound, const Put& put) {
  for (std::size_t i = 0; i < sound.interlocks.size(); ++i) {
    if (!stands_alone(sound, sound.interlocks[i])) continue;
    Site wrong = sound;
    wrong.interlocks[i].means = site::InterlockMeans::unknown;
    put("interlock " + std::to_string(i + 1), std::move(wrong));
  }
}

void charge_point_detection(const Site& sound, const Put& put) {
  each<site::LoadGroup>(sound, [&](std::size_t e, const site::LoadGroup& load) {
    const std::size_t device = device_of_load(sound, e);
    if (!load.dc_detection_6ma || device == site::none) return;
    const auto& facts = std::get<Device>(sound.elements[device].facts);
    if (facts.residual && facts.residual->type == site::ResidualType::b) return;
    Site wrong = sound;
    facts_of<site::LoadGroup>(wrong, e).dc_detection_6ma.reset();
    put(name(sound, e), std::move(wrong));
  });
}

void charge_point_pen(const Site& sound, const Put& put) {
  forget<site::LoadGroup>(sound, put, &site::LoadGroup::pen_detection);
}

constexpr std::array kinds{
    FaultKind{"poles not said", poles},
    FaultKind{"direction of feed not said", direction},
    FaultKind{"who moves it not said", who_moves_it},
    FaultKind{"position without power not said", without_power},
    FaultKind{"feedback of a contact not said", feedback},
    FaultKind{"type of an RCD not said", rcd_type},
    FaultKind{"delay of an RCD not said", rcd_delay},
    FaultKind{"earthing of the supply not said", supply_earthing},
    FaultKind{"resistance of an electrode not said", electrode_resistance},
    FaultKind{"neutral of a generator not said", generator_neutral},
    FaultKind{"winding of a generator not said", generator_winding},
    FaultKind{"RCD of a generator not said", generator_own_rcd},
    FaultKind{"generator fixed or portable not said", generator_fixed},
    FaultKind{"reverse power relay not said", generator_reverse_power},
    FaultKind{"inner bond not said", inverter_bond},
    FaultKind{"rest of the inner bond not said", inverter_bond_rest},
    FaultKind{"neutral in island not said", inverter_island_neutral},
    FaultKind{"rest of a bond contact not said", bond_rest},
    FaultKind{"proof of a bond contact not said", bond_proof},
    FaultKind{"means of an interlock not said", interlock_means},
    FaultKind{"DC detection of a charge point not said", charge_point_detection},
    FaultKind{"detection of a broken PEN not said", charge_point_pen},
};

}  // namespace

std::span<const FaultKind> unsaid_faults() {
  return kinds;
}

}  // namespace linewright::tests
