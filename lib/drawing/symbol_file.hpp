// Reads one symbol file, a small and strict part of SVG.
//
// Elements: svg g title desc path line polyline polygon rect circle ellipse text. One user unit is
// one millimetre. Stroke is none or currentColor; fill is none, currentColor or white (paper). No
// transforms, styles, classes, references. `<circle id="port-NAME">` is a connection point and is
// not drawn; it has to lie on the 2.5 mm module.
#pragma once

#include <string_view>

#include "drawing/symbol.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// The symbol in the text of an SVG file; its name is given because files do not know theirs.
/// Fails with "NAME.svg:LINE: what is wrong" on the first thing that is not supported.
Result<Symbol> parse_symbol(std::string_view name, std::string_view svg);

}  // namespace linewright::drawing
