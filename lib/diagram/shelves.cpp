#include "diagram/shelves.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "diagram/divide.hpp"

namespace linewright::diagram {
namespace {

constexpr double most_growth = 30.0;  ///< of a shelf beyond the height it must have

/// The room for shelves, with its lower part beside the title block.
struct Room {
  double left = 0.0;
  double top = 0.0;
  double width = 0.0;
  double beside_width = 0.0;
  double bottom = 0.0;  ///< above the title block
  double beside_bottom = 0.0;
};

Room room_of(const Page& page) {
  const double left = page.frame.x + page_margin;
  return {.left = left,
          .top = page.frame.y + page_margin,
          .width = page.right() - page_margin - left,
          .beside_width = page.title_left - page_margin - left,
          .bottom = page.title_top - page_margin,
          .beside_bottom = page.bottom() - page_margin};
}

/// The room that is left for one more shelf below a height.
struct Slot {
  Size size;
  double top = 0.0;
};

bool fits(const Size& size, const Slot& slot) {
  return size.width <= slot.size.width + 1e-6 && size.height <= slot.size.height + 1e-6;
}

// Over the whole width if it goes there, else beside the title block.
std::optional<Slot> slot_for(const Room& room, double top, const Size& size) {
  for (const Slot& slot : {Slot{{room.width, room.bottom - top}, top},
                           Slot{{room.beside_width, room.beside_bottom - top}, top}})
    if (fits(size, slot)) return slot;
  return std::nullopt;
}

/// A shelf under way.
struct Filling {
  Shelf shelf;
  Slot slot;
  Need need;
};

// As many blocks as the slot takes.
void fill(const std::vector<Need>& needs, const Join& join, Filling& filling) {
  double sum = filling.need.least.width;
  Shelf& shelf = filling.shelf;
  while (shelf.first + shelf.count < needs.size()) {
    const Need& next = needs[shelf.first + shelf.count];
    sum += next.least.width;
    if (sum > filling.slot.size.width || next.least.height > filling.slot.size.height) return;
    const Need both = join(shelf.first, shelf.count + 1);
    if (!fits(both.least, filling.slot)) return;
    filling.need = both;
    ++shelf.count;
  }
}

// Shares out the height that is left over.
std::vector<Shelf> spread(const Room& room, double top, const std::vector<Filling>& fillings) {
  double over_title = room.bottom - top;
  double to_bottom = room.beside_bottom - top;
  double full = 0.0;
  for (const Filling& filling : fillings) {
    const double height = filling.need.least.height + shelf_gap;
    to_bottom -= height;
    if (filling.slot.size.width < room.width) continue;
    over_title -= height;
    full += 1.0;
  }
  const bool any_beside = full < static_cast<double>(fillings.size());
  double growth = most_growth;
  if (full > 0.0) growth = std::min(growth, (over_title + shelf_gap) / full);
  if (any_beside)
    growth = std::min(growth, (to_bottom + shelf_gap) / static_cast<double>(fillings.size()));
  growth = std::max(0.0, growth);
  std::vector<Shelf> shelves;
  for (const Filling& filling : fillings) {
    Shelf shelf = filling.shelf;
    shelf.room = {room.left, top, filling.slot.size.width, filling.need.least.height + growth};
    top += shelf.room.height + shelf_gap;
    shelves.push_back(shelf);
  }
  return shelves;
}

Plan joined_plans(const std::vector<StandingPlan>& blocks, std::size_t first, std::size_t count) {
  Plan plan = blocks[first].plan;
  for (std::size_t i = 1; i < count; ++i)
    plan = joined(std::move(plan), blocks[first + i].plan);
  return plan;
}

// The widest columns first that the shelf has room for.
std::optional<Part> placed_on(const Job& job, const Plan& plan, const Rect& room) {
  constexpr double most_pitch = 7.5;  // beyond the least
  const Area area{.left = room.x,
                  .right = room.x + room.width,
                  .top = room.y,
                  .bottom = room.y + room.height,
                  .notch_left = room.x + room.width,
                  .notch_top = room.y + room.height,
                  .growth = Growth::limited};
  const Need need = need_of(job.site, job.metrics, plan);
  const double spare = room.width - need.least.width;
  const auto circuits = static_cast<double>(std::max<std::size_t>(1, need.circuits));
  double pitch = std::min(most_pitch, std::floor(spare / circuits / module_width) * module_width);
  const double row = room.height - need.least.height >= 4.0 ? 0.5 : 0.0;
  for (; pitch >= 0.0; pitch -= module_width) {
    const CableLines to_tags = pitch > 0.0 ? CableLines::wide : CableLines::narrow;
    Measures measures =
        measure(job.site, job.metrics, plan,
                {.pitch = pitch, .row = pitch > 0.0 ? row : 0.0, .to_tags = to_tags});
    auto placed = place(job.site, job.metrics, plan, measures, area);
    if (placed) return Part{plan, std::move(measures), std::move(*placed)};
  }
  return std::nullopt;
}

}  // namespace

bool fits_page(const Page& page, Size size) {
  const Room room = room_of(page);
  return slot_for(room, room.top, size).has_value();
}

std::vector<std::vector<Shelf>> dealt_to_shelves(const Page& page, const std::vector<Need>& needs,
                                                 const Join& join,
                                                 std::optional<double> first_top) {
  const Room room = room_of(page);
  std::vector<std::vector<Shelf>> sheets;
  std::vector<Filling> fillings;
  double start = first_top.value_or(room.top);
  double top = start;
  for (std::size_t next = 0; next < needs.size();) {
    std::optional<Slot> slot = slot_for(room, top, needs[next].least);
    if (!slot && top == room.top) slot = Slot{{room.width, room.bottom - top}, top};
    if (!slot) {
      sheets.push_back(spread(room, start, fillings));
      fillings.clear();
      start = room.top;
      top = start;
      continue;
    }
    Filling filling{.shelf = {.first = next, .count = 1}, .slot = *slot, .need = needs[next]};
    fill(needs, join, filling);
    next += filling.shelf.count;
    top += filling.need.least.height + shelf_gap;
    fillings.push_back(filling);
  }
  if (!fillings.empty()) sheets.push_back(spread(room, start, fillings));
  return sheets;
}

std::vector<SheetPlan> sheets_of(const Job& job, const std::vector<StandingPlan>& blocks,
                                 const std::optional<SheetPlan>& head, std::vector<Plan>& misfits) {
  std::vector<Need> needs;
  for (const StandingPlan& block : blocks)
    needs.push_back(block.need);
  const Page page = page_of(job.site, job.paper);
  const auto join = [&](std::size_t first, std::size_t count) {
    return need_of(job.site, job.metrics, joined_plans(blocks, first, count));
  };
  std::vector<SheetPlan> sheets;
  std::optional<double> first_top;
  if (head) first_top = head->notes_end + shelf_gap;
  for (const std::vector<Shelf>& shelves : dealt_to_shelves(page, needs, join, first_top)) {
    SheetPlan sheet{.parts = {}, .notes = NotesAt::below, .paper = job.paper};
    const bool first = head && sheets.empty();
    if (first) sheet = *head;
    for (const Shelf& shelf : shelves) {
      const Plan plan = joined_plans(blocks, shelf.first, shelf.count);
      auto part = placed_on(job, plan, shelf.room);
      if (shelf.room.width < room_of(page).width && !first) sheet.notes = NotesAt::anywhere;
      if (part)
        sheet.parts.push_back(std::move(*part));
      else
        misfits.push_back(plan);
    }
    if (!sheet.parts.empty()) sheets.push_back(std::move(sheet));
  }
  return sheets;
}

}  // namespace linewright::diagram
