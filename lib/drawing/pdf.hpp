// Writes all sheets into one PDF: text that can be searched, outline, links, metadata.
#pragma once

#include <string>

#include "drawing/display_list.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// What the PDF depends on besides the drawing.
struct PdfOptions {
  /// ISO 8601 time of creation, "2026-11-25T00:00:00Z"; empty: the drawing's date, and without one
  /// 1970-01-01, because the library reads no clock.
  std::string created;
  std::string keywords;  ///< empty: the titles of the sheets
};

/// The PDF as bytes, the same for the same drawing and options. Fails for a drawing without
/// sheets, a time that is none, or when Cairo does.
Result<std::string> write_pdf(const Drawing& drawing, const PdfOptions& options = {});

/// Seconds since 1970 (as in SOURCE_DATE_EPOCH) as the time that PdfOptions wants. Fails on
/// anything but a whole number of a year up to 9999.
Result<std::string> time_of_epoch(std::string_view seconds);

}  // namespace linewright::drawing
