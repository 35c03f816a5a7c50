// Findings as JSON, for other programs.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"

namespace linewright::findings {

/// The report as one JSON object, ending in a newline. Its keys are described in README.md.
std::string report_json(const Report& report, std::string_view version);

/// The mistakes of a file that could not be read, as one JSON object with a list "mistakes".
std::string mistakes_json(std::string_view file, std::span<const Mistake> mistakes,
                          std::string_view version);

/// What a rule says of itself.
struct RuleWords {
  std::string id;
  Severity severity = Severity::breach;
  std::string must_hold;
  std::string why;
  std::vector<std::string> clauses;
  std::string example;  ///< the smallest site file that breaks it
};

/// The rules as one JSON object with a list "rules".
std::string rules_json(std::span<const RuleWords> rules);

/// A text as a JSON string, quotes included; broken UTF-8 is replaced.
std::string json_string(std::string_view text);

/// Texts as a JSON list of strings on one line.
std::string json_strings(const std::vector<std::string>& texts);

}  // namespace linewright::findings
