// Findings as a SARIF 2.1.0 log, which code hosts and editors show beside the lines of the file.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "findings/finding.hpp"

namespace linewright::findings {

/// What a SARIF log says of a rule itself.
struct RuleText {
  std::string id;
  Severity severity = Severity::breach;
  std::string must_hold;
  std::string why;
};

/// The reports of several files as one log, ending in a newline. Findings are results that fail,
/// open points results of kind "open". `rules` describes all rules that ran, in the order of their
/// ids; a result whose rule is not among them carries the id only.
std::string reports_sarif(std::span<const Report> reports, std::span<const RuleText> rules,
                          std::string_view version);

/// A log that says that the file could not be read, and why.
std::string mistakes_sarif(std::string_view file, std::span<const Mistake> mistakes,
                           std::string_view version);

}  // namespace linewright::findings
