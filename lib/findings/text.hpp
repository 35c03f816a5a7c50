// Findings in words for a terminal, laid out like a good compiler's messages.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "findings/finding.hpp"

namespace linewright::findings {

enum class Color { off, on };

/// Brief leaves out the source lines, the reasons, and open points that cannot be a danger.
enum class Detail { brief, full };

/// How a report is to look.
struct TextStyle {
  Color color = Color::off;
  Detail detail = Detail::full;
};

/// The whole report: findings, open points, one line that sums up, the caution. `source` is the
/// text of the file, from which the lines in question are shown. `positions` is a line on the proof
/// over every position, if there is one.
std::string report_text(const Report& report, std::string_view source, const TextStyle& style,
                        std::string_view positions = {});

/// What has to be confirmed on site, element by element: the question, the answer that is right,
/// and the rule that asks. Ends with the caution.
std::string questions_text(const Report& report, const TextStyle& style);

/// The mistakes of a file that could not be read, in the order they are given.
std::string mistakes_text(std::string_view file, std::span<const Mistake> mistakes,
                          std::string_view source, const TextStyle& style);

/// "danger", "breach" or "advice".
std::string_view name_of(Severity severity);

}  // namespace linewright::findings
