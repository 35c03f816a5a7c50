// What every sheet has round its diagram: frame with zones, title block, revisions.
#pragma once

#include <string>

#include "diagram/sketch.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// A3 landscape; frame and zones after ISO 5457, title block of ISO 7200 (see the reference page on
/// drawing conventions for what of it is from memory).
struct Paper {
  static constexpr double width = 420.0;
  static constexpr double height = 297.0;
  static constexpr Rect frame{20.0, 10.0, 390.0, 277.0};
  static constexpr double title_width = 180.0;
  static constexpr double title_height = 50.0;
  static constexpr double caution_height = 5.5;
  static constexpr double revision_row = 5.0;
};

/// What the title block of one sheet says besides the site's own data.
struct SheetFacts {
  std::string title;
  std::string supplement;
  std::string document_type;
  std::string rules;
  int number = 1;
  int count = 1;
};

/// Upper edge of the revision table, which stands on the title block.
double title_top(const site::Site& site);

/// "C4": the zone of a point on the sheet.
std::string zone_of(Point at);

void draw_frame(Sketch& sketch);
void draw_title_block(const site::Site& site, const SheetFacts& facts, Sketch& sketch);

}  // namespace linewright::diagram
