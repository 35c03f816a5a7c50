// What the layout must know of lettering and symbols, handed in by whoever draws.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "diagram/sheet.hpp"

namespace linewright::diagram {

/// Where a conductor may be attached to a symbol, in mm from the symbol's origin.
struct Port {
  std::string name;
  Point at;
};

/// The outline a symbol needs on the sheet and its ports, unturned.
struct SymbolShape {
  Rect bounds;              ///< all its ink, in mm from its origin
  std::vector<Port> ports;  ///< in the order of the symbol file
  std::string title;        ///< what the legend calls it
};

/// Width in mm of one line of text at a nominal lettering height in mm.
using TextWidth = std::function<double(std::string_view text, double height, Weight weight)>;

/// Everything the layout asks of the drawing.
struct Metrics {
  TextWidth text_width;
  std::map<std::string, SymbolShape, std::less<>> symbols;
};

}  // namespace linewright::diagram
