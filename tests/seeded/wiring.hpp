// Rewiring of a site as an installer would do it wrong: one thing changed, the rest as it was.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "site/site.hpp"

namespace linewright::tests {

/// Calls `visit(index, facts)` for each element of kind T.
template <class T, class Visit>
void each(const site::Site& site, Visit visit) {
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (const T* facts = site::facts<T>(site.elements[e])) visit(e, *facts);
}

/// The facts of an element that is known to be of kind T, to be changed.
template <class T>
T& facts_of(site::Site& site, std::size_t element) {
  return std::get<T>(site.elements[element].facts);
}

/// Designation of an element.
const std::string& name(const site::Site& site, std::size_t element);

/// A device on the AC side of the site, downstream of the service fuse.
bool on_ac_side(const site::Site& site, std::size_t element);

/// A device that joins or parts two ends, not a changeover.
bool two_ended(const site::Site& site, std::size_t element);

/// Whether a state or an interlock puts it somewhere.
bool is_moved(const site::Site& site, std::size_t element);

/// Whether the supply is on one side of a device, and on the other, not reached but through it, a
/// source that forms a voltage without the supply, not a generator.
bool parts_supply_from_forming(const site::Site& site, std::size_t element);

/// Whether each side of a device reaches a source without passing it.
bool between_sources(const site::Site& site, std::size_t element);

/// Circuits that hang on the load side of a device.
std::vector<std::size_t> loads_behind(const site::Site& site, std::size_t device);

/// What a circuit is promised, by itself or by its board.
std::optional<site::Service> service_of(const site::Site& site, std::size_t load);

/// Whether an interlock names an element.
bool names(const site::Interlock& interlock, std::size_t element);

/// Whether safety rests on an interlock: it holds by construction, and no bond contact of it is
/// proved by the contact that it is kept from. What stands beside another safeguard may be lost
/// alone; what is held by wires or a program is counted by no rule that asks for construction.
bool stands_alone(const site::Site& site, const site::Interlock& interlock);

/// Whether every protective conductor still leads to the main earthing terminal over some way.
bool all_earthed(const site::Site& site);

/// Busbars of AC, in the order of the file.
std::vector<std::size_t> busbars(const site::Site& site);

/// Circuits, in the order of the file.
std::vector<std::size_t> loads(const site::Site& site);

/// Runs that end at a terminal.
std::vector<std::size_t> runs_at(const site::Site& site, site::Terminal terminal);

/// The end of a run that is not on this element.
site::Terminal other_end(const site::Run& run, std::size_t element);
/// The end of a run that is on this element.
site::Terminal& end_at(site::Run& run, std::size_t element);

/// The run that feeds a circuit, or `none`; and the device at its other end, or `none`.
std::size_t run_of_load(const site::Site& site, std::size_t load);
std::size_t device_of_load(const site::Site& site, std::size_t load);

/// Adds an element; its conductors are those of the place at which it will stand.
std::size_t add_element(site::Site& site, std::string designation, site::Facts facts,
                        std::vector<std::string> terminals, site::Conductors conductors);

/// Joins two terminals without a cable, with just these conductors.
void join(site::Site& site, site::Terminal from, site::Terminal to, site::Conductors conductors);

/// Lands a bond of neutral and earth, made on site, at a terminal; its index.
std::size_t add_bond(site::Site& site, site::Terminal at, site::Bond bond);

/// Takes every run away from an element: it hangs on nothing.
void cut_off(site::Site& site, std::size_t element);

/// Takes a device out and joins what it stood between; states and interlocks no longer name it.
void bridge(site::Site& site, std::size_t element);

/// Opens one conductor of a run for good.
void break_conductor(site::Site& site, std::size_t run, site::Conductor conductor);

/// "-W4", or "-WB4 to -F11" for a run without a name.
std::string run_name(const site::Site& site, std::size_t run);

}  // namespace linewright::tests
