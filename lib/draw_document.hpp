// A document as files.
#pragma once

#include "diagram/sheet.hpp"
#include "linewright.hpp"

namespace linewright {

/// The document as PDF, each sheet as SVG and, if asked for, PNG, with what could not be drawn.
Result<Drawn> draw_document(const diagram::Document& document, const DrawOptions& options);

}  // namespace linewright
