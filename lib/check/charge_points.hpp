// Circuits that charge vehicles, as several rules ask of them.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// The circuits with `use: EV`, by element in the order of the file.
std::vector<std::size_t> charge_points(const AnalysedSite& site);

/// What the file says under `charging` of such a circuit; nothing where it says nothing.
const site::ChargePoint& charging(const AnalysedSite& site, std::size_t load);

/// Whether the protective conductor of a circuit leads to the main earthing terminal.
bool on_common_earth(const AnalysedSite& site, std::size_t load);

/// Whether the protective conductor of a circuit leads to the earth that the supply brings.
bool on_supply_earth(const AnalysedSite& site, std::size_t load);

/// Whether all ways of the lines from a source to a circuit pass this element in that state.
bool all_ways_pass(const AnalysedSite& site, const network::StateView& state, std::size_t source,
                   std::size_t load, std::size_t element);

/// The meter that a charge point names, or `site::none`.
std::size_t meter_of(const AnalysedSite& site, std::size_t load);

}  // namespace linewright::check
