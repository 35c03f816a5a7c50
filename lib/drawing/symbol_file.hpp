// Reads one symbol file, a small and strict part of SVG.
//
// Elements: svg g title desc path line polyline polygon rect circle ellipse text. One user unit is
// one millimetre. Stroke is none or currentColor; fill is none, currentColor or white (paper). No
// transforms, styles, classes, references. `<circle id="port-NAME">` is a connection point and is
// not drawn; it has to lie on the 2.5 mm module.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// A symbol file; its symbol has the name of the file without folder and ending.
struct SymbolFile {
  std::string path;  ///< also for messages
  std::string text;
};

/// How large a symbol file may be, in bytes.
constexpr std::size_t largest_symbol_file = 65'536;

/// A symbol, or all that is wrong with its file, each as "PATH:LINE: what is wrong".
using SymbolResult = tl::expected<Symbol, std::vector<std::string>>;

/// The symbol in a file. One that is to stand in place of `built_in` must have its ports: in the
/// same places, but that a device in a column may be longer or shorter.
SymbolResult parse_symbol(const SymbolFile& file, const Symbol* built_in = nullptr);

}  // namespace linewright::drawing
