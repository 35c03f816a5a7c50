// The symbols that are built into the library.
#pragma once

#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// All files of `symbols/`, as they were when the library was built.
SymbolLibrary built_in_symbols();

}  // namespace linewright::drawing
