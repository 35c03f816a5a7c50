// Writes a sheet as a PNG picture.
#pragma once

#include <cstddef>
#include <string>

#include "drawing/display_list.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// Which sheet, how fine.
struct PngOptions {
  std::size_t sheet = 0;  ///< index in Drawing::sheets
  double dpi = 150.0;     ///< lowered when the picture would grow beyond largest_png_pixels
};

/// The most pixels of a picture; a side has at most 32,767.
constexpr double largest_png_pixels = 120e6;

/// The picture as bytes, on white. Fails when there is no such sheet or dpi is not above 0.
Result<std::string> write_png(const Drawing& drawing, const PngOptions& options = {});

}  // namespace linewright::drawing
