// The list of all rules; its body is generated from the files in the family folders.
#pragma once

#include <span>

#include "check/rule.hpp"

namespace linewright::rules {

/// Every rule there is, sorted by family and file name.
std::span<const check::Rule* const> all_rules();

}  // namespace linewright::rules
