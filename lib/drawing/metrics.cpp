#include "drawing/metrics.hpp"

#include "drawing/symbol_table.hpp"
#include "drawing/text.hpp"

namespace linewright::drawing {

diagram::Rect ink_bounds(const Symbol& symbol, const FontSet& fonts) {
  Rect out;
  for (const Outline& outline : symbol.outlines) {
    out = unite(out, grown(bounds(outline.path), outline.width / 2.0));
  }
  for (const SymbolText& text : symbol.texts) {
    const double width = text_width(text.text, text.height, diagram::Weight::regular, fonts);
    out = unite(out, {text.at.x - width / 2.0, text.at.y - text.height, width, text.height});
  }
  return out;
}

diagram::Metrics metrics(const SymbolLibrary& symbols, const FontSet& fonts) {
  diagram::Metrics out;
  out.text_width = [fonts](std::string_view text, double height, diagram::Weight weight) {
    return text_width(text, height, weight, fonts);
  };
  for (const auto& [name, symbol] : symbols) {
    out.symbols.emplace(
        name, diagram::SymbolShape{ink_bounds(symbol, fonts), symbol.ports, symbol.title});
  }
  return out;
}

diagram::Metrics metrics() {
  return metrics(built_in_symbols());
}

}  // namespace linewright::drawing
