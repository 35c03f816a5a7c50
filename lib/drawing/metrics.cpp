#include "drawing/metrics.hpp"

#include "drawing/symbol_table.hpp"
#include "drawing/text.hpp"

namespace linewright::drawing {

diagram::Rect ink_bounds(const Symbol& symbol) {
  Rect out;
  for (const Outline& outline : symbol.outlines) {
    out = unite(out, grown(bounds(outline.path), outline.width / 2.0));
  }
  for (const SymbolText& text : symbol.texts) {
    const double width = text_width(text.text, text.height, diagram::Weight::regular);
    out = unite(out, {text.at.x - width / 2.0, text.at.y - text.height, width, text.height});
  }
  return out;
}

diagram::Metrics metrics(const SymbolLibrary& symbols) {
  diagram::Metrics out;
  out.text_width = text_width;
  for (const auto& [name, symbol] : symbols) {
    out.symbols.emplace(name, diagram::SymbolShape{ink_bounds(symbol), symbol.ports, symbol.title});
  }
  return out;
}

diagram::Metrics metrics() {
  return metrics(built_in_symbols());
}

}  // namespace linewright::drawing
