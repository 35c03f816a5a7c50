// The room that a sheet has for drawing.
#pragma once

#include "diagram/paper.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

inline constexpr double page_margin = 3.0;  ///< from the frame to the diagram

/// The inside of the frame, with the title block in its lower right corner.
struct Page {
  Rect frame;
  double title_left = 0.0;  ///< left edge of the title block
  double title_top = 0.0;   ///< its upper edge, with revisions and caution

  double right() const { return frame.x + frame.width; }
  double bottom() const { return frame.y + frame.height; }

  /// Between the margins.
  double width() const { return frame.width - 2.0 * page_margin; }
};

/// The page that a paper gives a site's sheets.
Page page_of(const site::Site& site, const Paper& paper);

}  // namespace linewright::diagram
