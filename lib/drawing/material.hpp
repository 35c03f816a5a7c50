// What drawings are made of besides the site: symbols and fonts, the built-in ones and the user's.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "drawing/font_set.hpp"
#include "drawing/symbol.hpp"
#include "drawing/symbol_file.hpp"
#include "drawing/symbol_table.hpp"

namespace linewright::drawing {

/// The symbols by name and the fonts in their order.
struct Material {
  SymbolLibrary symbols = built_in_symbols();
  FontSet fonts;
};

/// How many symbol files of the user there may be.
constexpr std::size_t most_symbol_files = 500;

/// The built-in material with that of the user, or all that is wrong with it.
struct MaterialRead {
  Material material;
  std::vector<std::string> mistakes;  ///< each names its file, and the line where there is one
};

/// Adds the symbols and fonts of the user to the built-in ones. A symbol of a name that is built in
/// stands in place of that one and needs the same ports.
MaterialRead read_material(const std::vector<SymbolFile>& symbols, std::vector<FontFile> fonts);

}  // namespace linewright::drawing
