// Chains: what stands in series, read item by item and then joined by runs.
#pragma once

#include <optional>

#include "input/draft.hpp"

namespace linewright::input {

/// Reads the items of a chain, a list or a map with `chain` and `phase`, and makes its elements.
ChainPlan read_chain(Draft& draft, const Node& node);

/// Adds the items of a list to a plan.
void read_chain_items(Draft& draft, const Node& list, ChainPlan& plan);

/// Makes the element of a device in a chain; none after reporting what cannot be read.
std::optional<std::size_t> read_chain_device(Draft& draft, const Node& node);

/// Looks up the ends of the chain, puts its devices into their assemblies, and adds its runs.
void join_chain(Draft& draft, const ChainPlan& chain);

/// Reports items of chains that are the rating of a breaker and the name of something as well.
void check_ratings(Draft& draft);

/// Reports chains of which neither end is joined to anything, once all are joined.
void check_ends(Draft& draft);

/// A phase written "L1", "L2" or "L3".
std::optional<site::Conductor> read_phase(const Node* node, Mistakes& mistakes);

/// A cable, a line or a map with `id` and `cable`.
std::optional<CableLine> read_cable_node(const Node& node, Mistakes& mistakes);

}  // namespace linewright::input
