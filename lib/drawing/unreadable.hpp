// Words for what a drawing could not show: characters that no font has.
#pragma once

#include <string>
#include <vector>

#include "drawing/display_list.hpp"

namespace linewright::drawing {

/// A line for each text that cannot be read as drawn: the text, where it stands, the characters
/// that are missing, and what to do. Of many texts only the first, and how many more there are.
std::vector<std::string> unreadable_notices(const Drawing& drawing);

}  // namespace linewright::drawing
