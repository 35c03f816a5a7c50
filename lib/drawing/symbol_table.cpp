#include "drawing/symbol_table.hpp"

#include "drawing/symbol_rows.hpp"

namespace linewright::drawing {

SymbolLibrary built_in_symbols() {
  return unpack(symbol_numbers(), symbol_words());
}

}  // namespace linewright::drawing
