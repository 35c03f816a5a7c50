// The circuits of a board.
#pragma once

#include <cstddef>

#include "input/draft.hpp"
#include "input/fields.hpp"

namespace linewright::input {

/// Makes the circuits of a list, below a board's busbar or a group's device, and keeps their
/// chains.
void read_circuits(Draft& draft, const Node* list, std::size_t assembly, const PlaceName& from);

/// The facts of the load of one circuit.
site::LoadGroup read_load(const Fields& fields, Mistakes& mistakes);

/// backup, normal or direct.
std::optional<site::Service> read_service(const Node* node, Mistakes& mistakes);

}  // namespace linewright::input
