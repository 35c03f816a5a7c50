// One sheet for a whole plan: the overview, or what is meshed like it.
#pragma once

#include <optional>

#include "diagram/sheets.hpp"

namespace linewright::diagram {

/// The plan on one sheet, the first arrangement of the paper that takes it; of the misfits the
/// smallest one.
tl::expected<SheetPlan, Misfit> fit(const Job& job, const Plan& plan);

/// The plan at the top of a sheet, no higher than it must be, with its notes beside it, so that
/// there is room below for what is that high; nothing if there is none.
std::optional<SheetPlan> fit_above(const Job& job, const Plan& plan, double below);

/// What a plan became on its way to a sheet.
struct Reduced {
  std::vector<SheetPlan> sheet;  ///< one, or none where nothing could be taken off any more
  std::vector<Plan> parts;       ///< what left the sheet, in the order of the file
};

/// Takes off the plan what its sheet can not hold: boards that hang from others first, then
/// circuits of the fullest bar in even portions, then sources, at last whole panels.
Reduced fit_or_reduce(const Job& job, const Plan& whole);

}  // namespace linewright::diagram
