// Changes on the drawing: revision clouds round what changed, and a table of what each change is.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// One change in words; its number is its place in the list, from 1.
struct ChangeMark {
  std::vector<std::string> drawn_as;  ///< designations on the drawing; none: it is not drawn
  std::string words;                  ///< "-F51: cable changed: size 1.5 mm² → 2.5 mm²"
};

/// The sheets of the new drawing with a cloud round everything that changed and its number in a
/// triangle at the cloud, then the table, which says on which sheet and in which zone each cloud
/// is. Clouds that would meet are one, with all their numbers. Sheets without a cloud are left out.
/// The drawing itself stays as it is.
Document change_sheets(const site::Site& site, const Metrics& metrics, const Document& drawing,
                       const std::vector<ChangeMark>& changes, const std::string& rules,
                       const std::string& remark);

}  // namespace linewright::diagram
