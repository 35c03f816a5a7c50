// A sheet that shows every symbol of a library with its name and ports.
#pragma once

#include "diagram/sheet.hpp"
#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// All symbols in rows, by name: title in bold, name in grey, ports marked. One sheet as wide as
/// A3, higher than that if it must be.
diagram::Sheet symbol_sheet(const SymbolLibrary& symbols);

}  // namespace linewright::drawing
