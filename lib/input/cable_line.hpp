// A cable written on one line, such as "-W3 5×6 mm² Cu 18 m XLPE method D".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "input/mistakes.hpp"
#include "input/node.hpp"
#include "site/site.hpp"

namespace linewright::input {

/// A cable as written, before it is known which conductors its upper end brings.
struct CableLine {
  std::string designation;  ///< empty: to be made
  Place where;
  site::Cable cable;
  int cores = 0;                          ///< counted without a separate protective conductor
  std::optional<site::Conductors> given;  ///< where the line names them
  bool separate_earth = false;            ///< "+ 16 mm² PE" beside the counted cores
};

/// True where the text, after a designation, begins as cables do: cores × size.
bool is_cable(std::string_view text);

/// Reads one line; none after reporting what cannot be read.
std::optional<CableLine> read_cable(const Node& node, Mistakes& mistakes);

}  // namespace linewright::input
