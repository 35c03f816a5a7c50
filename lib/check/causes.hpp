// Circuits that one cause hurts, told together at the cause.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// The subject of one verdict about circuits, each with the element that stands for it alone. One:
/// that element. Several: the line of the file that all come from (`quantity`), the board that
/// holds all, or the first.
struct HurtCircuit {
  std::size_t load = site::none;
  std::size_t element = site::none;  ///< its device, or the load itself
};
Subject about_circuits(const AnalysedSite& site, const std::vector<HurtCircuit>& circuits,
                       const network::StateView* state = nullptr);

/// Whether the load's neutral reaches none of the sources that make a voltage in this state, not
/// even over what the file leaves open.
bool neutral_lost(const AnalysedSite& site, const network::StateView& state, std::size_t load);

/// "'Kitchen'", "'Kitchen' and 'Hall'", "'Kitchen' and 4 more circuits".
std::string circuits_named(const AnalysedSite& site, const std::vector<std::size_t>& loads);

/// One note a board: the text, a colon and every circuit there by name.
std::vector<Note> circuits_by_board(const AnalysedSite& site, const std::vector<std::size_t>& loads,
                                    const std::string& text);

}  // namespace linewright::check
