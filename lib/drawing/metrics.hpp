// What the layout may ask of the drawing: widths of text, sizes and ports of symbols.
#pragma once

#include "diagram/metrics.hpp"
#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// All ink of a symbol, pens and marks included, in mm from its origin.
diagram::Rect ink_bounds(const Symbol& symbol);

/// Text widths of the built-in fonts and the shapes of the given symbols.
diagram::Metrics metrics(const SymbolLibrary& symbols);

/// The same for the built-in symbols.
diagram::Metrics metrics();

}  // namespace linewright::drawing
