// What the layout may ask of the drawing: widths of text, sizes and ports of symbols.
#pragma once

#include "diagram/metrics.hpp"
#include "drawing/font_set.hpp"
#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// All ink of a symbol, pens and marks included, in mm from its origin.
diagram::Rect ink_bounds(const Symbol& symbol, const FontSet& fonts = {});

/// Text widths of these fonts and the shapes of these symbols.
diagram::Metrics metrics(const SymbolLibrary& symbols, const FontSet& fonts = {});

/// The same for the built-in symbols and fonts.
diagram::Metrics metrics();

}  // namespace linewright::drawing
