// Runs rules over a site and gathers what they say.
#pragma once

#include <span>

#include "check/rule.hpp"

namespace linewright::check {

/// Runs every rule. Findings and open points come sorted by line, column and rule; verdicts that
/// say the same of the same element in several states become one, which names the states.
/// `file`, `site`, `profile` of the report are filled from the site and profile, `file` is not.
Report run(const AnalysedSite& site, std::span<const Rule* const> rules);

/// Clauses as they may be shown: those not confirmed carry "to be confirmed".
std::vector<std::string> shown_clauses(const Rule& rule);

}  // namespace linewright::check
