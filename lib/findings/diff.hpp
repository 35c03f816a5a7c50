// The difference of two texts as a unified diff.
#pragma once

#include <string>
#include <string_view>

namespace linewright::findings {

/// The lines that differ with three lines around them, as `patch` and version control read them;
/// empty where the texts are the same.
std::string unified_diff(std::string_view name, std::string_view before, std::string_view after);

}  // namespace linewright::findings
