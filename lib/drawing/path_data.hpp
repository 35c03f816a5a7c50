// Reads the `d` attribute of an SVG path.
#pragma once

#include <string_view>

#include "drawing/path.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// The outline that SVG path data describes, all coordinates absolute, arcs and quadratic curves
/// turned into cubic ones. Fails on anything that is not path data, naming the column.
Result<Path> parse_path_data(std::string_view text);

/// The numbers of an SVG list ("1,2 3-4.5.5"). Fails on anything else in it.
Result<std::vector<double>> parse_number_list(std::string_view text);

}  // namespace linewright::drawing
