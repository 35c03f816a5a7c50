#include "drawing/metrics.hpp"

#include <map>
#include <memory>
#include <string>
#include <tuple>

#include "drawing/symbol_table.hpp"
#include "drawing/text.hpp"

namespace linewright::drawing {
namespace {

using KnownWidths = std::map<std::tuple<diagram::Weight, double, std::string>, double>;

}  // namespace

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
  // Layout asks for the same words again and again.
  const auto known = std::make_shared<KnownWidths>();
  out.text_width = [known, fonts](std::string_view text, double height, diagram::Weight weight) {
    const auto [at, is_new] = known->try_emplace({weight, height, std::string(text)}, 0.0);
    if (is_new) at->second = text_width(text, height, weight, fonts);
    return at->second;
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
