// What stands on the ways from the main earthing terminal into the ground.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// An element with a pole in a protective conductor between the main earthing terminal and an
/// earth.
struct EarthSwitch {
  std::size_t element = site::none;
  std::size_t earth = site::none;  ///< the supply, or an electrode
};

/// All of them, by element; each with the supply where it parts that, else with one electrode.
/// Poles in a PEN are left out.
std::vector<EarthSwitch> switches_in_earth_ways(const AnalysedSite& site);

/// Whether the element is a link that opens with a tool only.
bool is_tool_operated(const AnalysedSite& site, std::size_t element);

/// What a rule on protective conductors says of a site where none of them has a switch: it holds at
/// the main earthing terminal.
std::vector<Verdict> holds_at_main_terminal(const AnalysedSite& site);

}  // namespace linewright::check
