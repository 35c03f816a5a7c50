// Batteries and PV arrays on the DC side of an inverter.
#pragma once

#include <cstddef>
#include <string>

#include "input/draft.hpp"
#include "input/fields.hpp"

namespace linewright::input {

/// Makes the PV arrays of an inverter, one map or a list of them, and keeps their chains to it.
void read_pv(Draft& draft, const Node* node, std::size_t inverter);

/// Makes the batteries of an inverter in the same way.
void read_batteries(Draft& draft, const Node* node, std::size_t inverter);

/// "AC", "A", "F" or "B", as a maker declares it; empty if not given.
std::string rcd_type_word(const Node* node, Mistakes& mistakes);

}  // namespace linewright::input
