// Findings as JSON, for other programs.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "findings/finding.hpp"

namespace linewright::findings {

/// The report as one JSON object, ending in a newline. Its keys are described in README.md.
std::string report_json(const Report& report, std::string_view version);

/// The mistakes of a file that could not be read, as one JSON object with a list "mistakes".
std::string mistakes_json(std::string_view file, std::span<const Mistake> mistakes,
                          std::string_view version);

}  // namespace linewright::findings
