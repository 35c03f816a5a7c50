// Divides a plan that is too large for one sheet.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "diagram/plan.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// The frame and all that it feeds, as marks by hub.
std::vector<bool> below_frame(const Plan& plan, std::size_t frame);

/// How many circuits the marked hubs hold.
std::size_t circuits_in(const Plan& plan, const std::vector<bool>& hubs);

/// Takes a board with all that it feeds out of the plan, where a box with a reference stays, and
/// returns it as a plan that begins with the reference back. What leads to the board stays; what
/// stands in it goes.
Plan take_board(const site::Site& site, Plan& plan, std::size_t frame);

/// Takes all circuits of a bar or joint from the given one on out of the plan; they come back
/// below a continuation of the bar.
Plan take_circuits(const site::Site& site, Plan& plan, std::size_t hub, std::size_t keep);

/// Takes a source out of the plan; references stay where its chains come down. Chains that stand
/// outside every assembly go with it.
Plan take_source(const site::Site& site, Plan& plan, std::size_t hub);

/// Both plans side by side.
Plan joined(Plan left, const Plan& right);

}  // namespace linewright::diagram
