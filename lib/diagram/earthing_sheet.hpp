// The sheet of the earthing: terminal, electrodes, bonding conductors, and the joints of neutral
// and earth state by state.
#pragma once

#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "diagram/sheet.hpp"

namespace linewright::diagram {

/// Sheets of the earthing, and the symbols on them.
struct EarthingSheets {
  std::vector<Sheet> sheets;
  std::vector<std::string> symbols;
};

/// The sheets, the first named "earthing", still without title blocks; references lead to the
/// sheets that are drawn already. None for a site without a main earthing terminal.
EarthingSheets earthing_sheets(const site::Site& site, const Metrics& metrics,
                               const OverviewNotes& notes, const std::vector<const Sheet*>& drawn);

/// Leads from the main earthing terminal of a drawn sheet to that of the earthing: a link, and
/// words where they have room between `taken`, left of `right`, where notes may stand.
void refer_to_earthing(const site::Site& site, const Metrics& metrics, std::size_t number,
                       double right, Sheet& sheet, std::vector<Rect>& taken);

}  // namespace linewright::diagram
