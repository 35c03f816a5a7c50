// Findings on the drawing: numbered balloons at the elements, and a table of what each one says.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// One finding in words; its number is its place in the list, from 1. What is open or to be
/// confirmed has no balloon and stands after the findings.
struct Flag {
  bool numbered = true;
  std::string severity;  ///< "danger"
  std::string element;   ///< designation, or empty for the whole site
  std::string state;
  std::string finding;
  std::string rule;
  std::string mend;
};

/// The sheets of a drawing with a balloon for each finding at its element, then the table. Findings
/// at one element stand side by side on one leader; one at nothing that is drawn stands in the
/// table alone. `remark` is written below the table. The drawing itself is left as it is.
Document flag_sheets(const site::Site& site, const Metrics& metrics, const Document& drawing,
                     const std::vector<Flag>& flags, const std::string& rules,
                     const std::string& remark);

}  // namespace linewright::diagram
