// The sheet of particulars: what authorities and distributors want to read besides the diagram.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// Lines that belong together under one heading.
struct LineBlock {
  std::string heading;
  std::vector<std::string> lines;
  bool blanks = false;  ///< each line ends in a space to be filled in by hand
};

/// The blocks in columns on as many sheets as it takes; a block goes on in the next column. Still
/// without title blocks.
std::vector<Sheet> particulars(const site::Site& site, const Metrics& metrics,
                               const std::vector<LineBlock>& blocks);

}  // namespace linewright::diagram
