// What is written beside a symbol, and which symbol stands for a piece of equipment.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "site/site.hpp"

namespace linewright::diagram {

/// The words beside a symbol: its designation in bold, its data under it.
struct Label {
  std::string designation;
  std::vector<std::string> lines;
};

/// Name of the symbol that stands for an element; empty for what is drawn as a bar or a column.
std::string symbol_name(const site::Site& site, std::size_t element);

/// Name of the symbol of a source's own neutral-earth joint; empty if it has none that can close.
std::string inner_bond_symbol(const site::Site& site, std::size_t element);

/// The kind of an element in one word, as the outputs mark it: "breaker", "generator".
std::string kind_word(const site::Element& element);

/// Designation and data of an element for the sheet; no line is wider than a few words.
Label label_of(const site::Site& site, std::size_t element);

/// One sentence with the data of an element, for tooltips and screen readers.
std::string describe(const site::Site& site, std::size_t element);

/// How the words on a cable are broken: two lines, or three short ones.
enum class CableLines { wide, narrow };

/// The grey lines beside a run: designation with the make of the cable, then length and method.
/// Empty for a run without a cable.
std::vector<std::string> cable_lines(const site::Run& run, CableLines shape);

/// One sentence with the data of a run.
std::string describe(const site::Site& site, const site::Run& run);

/// "-Q1:2": an end of a run in the user's words.
std::string terminal_words(const site::Site& site, site::Terminal terminal);

/// Name of the symbol with one stroke a conductor, or empty if there is none for this set.
std::string strokes_name(site::Conductors conductors);

/// What the table under a circuit says of it, one cell a row.
struct CircuitCells {
  std::string circuit, device, poles, residual, type, cable, length, load;
};

/// The cells of a circuit with the given devices in series, its last cable (or null) and its load
/// (or none); `group` names the residual-current device ahead of it, or is empty.
CircuitCells circuit_cells(const site::Site& site, const std::vector<std::size_t>& devices,
                           const site::Run* cable, std::size_t load, const std::string& group);

}  // namespace linewright::diagram
