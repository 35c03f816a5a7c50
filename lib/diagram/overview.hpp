// The overview: the whole site as a single-line diagram on as few sheets as stay legible.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// One row of the table "How the site runs". The layout knows no states: all is plain text.
struct StateRow {
  std::string name;                    ///< "island"
  std::vector<std::string> positions;  ///< one for each of OverviewNotes::devices, "1", "0", "I"
  std::string alive;                   ///< which boards are alive
  std::string bond;                    ///< where neutral and earth are joined
};

/// Lines that belong together under one heading.
struct LineBlock {
  std::string heading;
  std::vector<std::string> lines;
  bool blanks = false;  ///< each line ends in a space to be filled in by hand
};

/// What the sheet says besides the diagram; filled in by whoever analysed the site.
struct OverviewNotes {
  std::vector<std::string> devices;  ///< designations at the head of the table's columns
  std::vector<StateRow> states;
  std::vector<std::string> notes;      ///< besides those of the site file
  std::vector<std::string> dangers;    ///< open dangers: a permit sheet has none
  std::vector<LineBlock> particulars;  ///< what authorities want to read besides the diagram
  std::string rules;                   ///< the rule set: "IEC 60364, profile FR"
  int further_sheets = 0;              ///< that follow in the same document
};

/// The sheets: the overview first, then one for each board that it can not hold, then the earthing
/// and the particulars. Everything of the site is drawn on just one of them. The same input gives
/// the same sheets.
Document overview(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes);

}  // namespace linewright::diagram
