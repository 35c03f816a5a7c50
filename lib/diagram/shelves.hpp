// Boards side by side on shelves, one shelf below the other on each sheet.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "diagram/page.hpp"
#include "diagram/sheets.hpp"

namespace linewright::diagram {

inline constexpr double shelf_gap = 7.5;  ///< between the shelves of a sheet, mm

/// A plan that stands by itself on a shelf, with the least room it takes.
struct StandingPlan {
  Plan plan;
  Need need;
};

/// Blocks side by side with the room they are given on the sheet.
struct Shelf {
  std::size_t first = 0;  ///< of the blocks
  std::size_t count = 0;
  Rect room;
};

/// The least room of blocks side by side.
using Join = std::function<Need(std::size_t first, std::size_t count)>;

/// Deals blocks out to shelves and shelves to sheets, in their order. A shelf that would reach down
/// to the title block keeps left of it. What height is left over is shared by the shelves of a
/// sheet, up to what still looks calm. With `first_top`, the first sheet has room from that height
/// down only, and comes back without shelves if that takes none.
/// Precondition: every block fits on a sheet by itself, above the title block or beside it.
std::vector<std::vector<Shelf>> dealt_to_shelves(const Page& page, const std::vector<Need>& needs,
                                                 const Join& join,
                                                 std::optional<double> first_top = std::nullopt);

/// Whether something has room on a sheet by itself.
bool fits_page(const Page& page, Size size);

/// Sheets with all blocks; what found no place after all is added to the misfits. The first one is
/// the given sheet, if any, with shelves below what it shows.
std::vector<SheetPlan> sheets_of(const Job& job, const std::vector<StandingPlan>& blocks,
                                 const std::optional<SheetPlan>& head, std::vector<Plan>& misfits);

}  // namespace linewright::diagram
