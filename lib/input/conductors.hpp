// Which conductors each run carries: lines and neutral flow down from the sources, protective
// conductors are there where they lead from somewhere to somewhere.
#pragma once

#include "input/draft.hpp"

namespace linewright::input {

/// Sets the conductors of all runs and elements.
void settle_conductors(Draft& draft);

/// Reports devices, loads and links whose conductors do not reach them.
void check_conductors(Draft& draft);

}  // namespace linewright::input
