// The review sheets of a symbol library: every symbol at its size on the grid, with its words.
#pragma once

#include <string>

#include "diagram/sheet.hpp"
#include "drawing/material.hpp"

namespace linewright {

/// Sheets of A3 with all symbols by family: drawn on the 2.5 mm grid with its connection points
/// and their names, below it title, name and meaning. `date` is an ISO 8601 day or empty.
diagram::Document symbol_document(const drawing::Material& material, const std::string& date = {});

}  // namespace linewright
