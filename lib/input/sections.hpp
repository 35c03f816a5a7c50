// The keys of every kind of map in the site file.
#pragma once

#include <span>

#include "input/fields.hpp"

namespace linewright::input {

extern const Section root_section, title_section, revision_section, supply_section,
    fault_current_section, earthing_section, electrode_section, link_section, generator_section,
    inverter_section, pv_section, battery_section, panel_section, panel_inverter_section,
    board_section, circuit_section, charging_section, group_section, assembly_section,
    chain_section, cable_section, interlock_section, signal_section, state_section,
    protection_section, closed_transition_section, automatic_section, synchronised_section,
    heat_pump_section, permit_section, installer_section, export_limit_section,
    isolation_point_section, emergency_section;

/// All of them, with `device_section`, for the test that compares them with the JSON Schema.
std::span<const Section* const> all_sections();

}  // namespace linewright::input
