// Heights of lettering, widths of lines, and where a text is broken.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"

namespace linewright::diagram {

inline constexpr double text_height = 2.5;  ///< of everything a reader acts on
inline constexpr double heading_height = 3.5;
inline constexpr double line_pitch = 3.5;  ///< baseline to baseline of 2.5 mm text

/// Width of the widest line.
double widest(const Metrics& metrics, const std::vector<std::string>& lines);

/// A circuit's name as it stands under its column: a long one in two lines.
std::vector<std::string> name_lines(const Metrics& metrics, const std::string& name);

/// Breaks a text at spaces and hyphens into lines no wider than `width`; a longer word stands
/// alone.
std::vector<std::string> wrapped(const Metrics& metrics, const std::string& text, double width,
                                 Weight weight = Weight::regular);

}  // namespace linewright::diagram
