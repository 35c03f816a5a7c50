// The rules in words: the reference in RULES.md and the answer to `explain`, from the same objects
// that check a site.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "check/rule.hpp"

namespace linewright::rules {

/// All rules as Markdown, by family: what must hold, why, where it is written, the national values
/// each uses, and the smallest site that breaks it. RULES.md is exactly this text.
std::string rule_reference();

/// One rule as plain text for a terminal, 80 columns wide; nothing if no rule has that id. The
/// family may be left out where the name alone is unique.
std::optional<std::string> explain(std::string_view id);

/// One line a rule, by family: id, severity and what must hold.
std::string rule_list();

/// The rule of that id, or of that name without family if it is unique, or null.
const check::Rule* find_rule(std::string_view id);

}  // namespace linewright::rules
