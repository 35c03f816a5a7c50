// Changes of parts told with the whole they belong to.
#pragma once

#include <vector>

#include "site/difference.hpp"

namespace linewright::site {

/// The changes with those of a part (`part_of`) joined to that of the element it belongs to, where
/// both are of one kind: "cable size" and "load power" of a circuit stand with its device.
std::vector<Change> folded(const std::vector<Change>& changes);

}  // namespace linewright::site
