// Boards that feed each other in a ring.
#pragma once

#include "input/draft.hpp"

namespace linewright::input {

/// Reports boards whose feeds lead back to themselves.
void check_loops(Draft& draft);

}  // namespace linewright::input
