// Divides a plan that is too large for one sheet.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "diagram/feeding.hpp"
#include "diagram/plan.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// The plan as one plan for each part that its hubs are marked with, from 0 up. A chain between two
/// parts becomes a pair of references: what leads to the lower board stays with the upper part, and
/// what stands in that board goes with it. What no line shows goes with part 0.
std::vector<Plan> parted(const site::Site& site, Plan plan, std::vector<std::size_t> part_of_hub,
                         std::size_t parts);

/// The plan without the boards that hang from others and are marked, then these boards, each with
/// what hangs from it and is not marked itself, in the order of the frames.
std::vector<Plan> without_boards(const site::Site& site, const Plan& plan, const Feeding& feeding,
                                 const std::vector<bool>& leaves);

/// Hangs chains of a bar or joint from continuations of it, one for each list; the plan keeps the
/// others. The continuations come back as plans of their own that begin with a reference.
std::vector<Plan> take_portions(const site::Site& site, Plan& plan, std::size_t hub,
                                const std::vector<std::vector<std::size_t>>& portions);

/// Takes a source out of the plan; references stay where its chains come down. Chains that stand
/// outside every assembly go with it.
Plan take_source(const site::Site& site, Plan& plan, std::size_t hub);

/// Takes sources out of the plan together with continuations of the bars that they feed, which two
/// references join with the bars that stay. Nothing, and the plan is left as it was, where one of
/// them feeds something else than bars.
std::optional<Plan> take_with_bars(const site::Site& site, Plan& plan,
                                   const std::vector<std::size_t>& hubs);

/// Both plans side by side.
Plan joined(Plan left, const Plan& right);

/// The assemblies that a plan draws, without those that are tags on it, in the order of the frames.
std::vector<std::size_t> boards_on(const Plan& plan);

}  // namespace linewright::diagram
