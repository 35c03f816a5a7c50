// Protective conductors of the runs.
#pragma once

#include "input/draft.hpp"

namespace linewright::input {

/// True where the fourth core of a cable is a protective conductor: where the upper end brings no
/// neutral (a PEN counts as one), or where the load does without.
bool fourth_core_is_earth(const RunPlan& plan, site::Conductors offered);

/// Joins the supplier's PE to the main earthing terminal where no cable from the supply does; true
/// if a run was added.
bool add_supplier_earth(Draft& draft);

/// Adds PE to the runs that carry it. Needs lines and neutrals.
void settle_protective(Draft& draft);

}  // namespace linewright::input
