// A tree of nodes back to YAML text.
#pragma once

#include <string>

#include "input/node.hpp"

namespace linewright::input {

/// YAML text that parses back to the same tree. Small maps and lists stand on one line; a device or
/// cable that has only its designation beside its words is written as one line.
std::string emit(const Node& root);

}  // namespace linewright::input
