// Where the two ends of a reference stand.
#pragma once

#include "diagram/sheets.hpp"

namespace linewright::diagram {

/// Writes sheet and zone of the other end into each reference of the sheets.
void set_references(const Job& job, std::vector<SheetPlan>& sheets);

}  // namespace linewright::diagram
