// The bookmarks of a sheet: what it shows, as a tree.
#pragma once

#include <string>
#include <vector>

#include "drawing/display_list.hpp"

namespace linewright::drawing {

/// A bookmark that leads to a group of its sheet.
struct Bookmark {
  std::string title;
  std::string mark;  ///< DrawnGroup::mark
  std::vector<Bookmark> inside;
};

/// Bookmarks of one sheet, in the order of its groups: boards with the elements that stand in them,
/// pictures, and the elements outside every board. Of a board with very many elements the board
/// alone: nobody looks through hundreds of bookmarks.
std::vector<Bookmark> bookmarks_of(const DisplayList& sheet);

/// The upper left corner of what a group draws, where a link to it should lead.
Point corner_of(const DrawnGroup& group);

}  // namespace linewright::drawing
