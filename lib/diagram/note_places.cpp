#include "diagram/note_places.hpp"

#include <algorithm>

#include "diagram/paper.hpp"

namespace linewright::diagram {
namespace {

/// Squares of the paper, marked where something stands.
struct Raster {
  static constexpr double cell = 1.25;
  Rect frame;
  std::size_t columns = 0;
  std::size_t rows = 0;
  std::vector<bool> taken;

  void mark(const Rect& rect, double around) {
    const auto index = [](double from, std::size_t most) {
      return std::min(static_cast<std::size_t>(std::max(0.0, from / cell)), most);
    };
    const std::size_t left = index(rect.x - around - frame.x, columns);
    const std::size_t right = index(rect.x + rect.width + around - frame.x + cell, columns);
    const std::size_t top = index(rect.y - around - frame.y, rows);
    const std::size_t bottom = index(rect.y + rect.height + around - frame.y + cell, rows);
    for (std::size_t row = top; row < bottom; ++row)
      for (std::size_t column = left; column < right; ++column)
        taken[row * columns + column] = true;
  }
};

Raster raster_of(const site::Site& site, const SheetPlan& sheet, const Sketch& sketch) {
  const Rect& frame = sheet.paper.frame;
  Raster raster{.frame = frame,
                .columns = static_cast<std::size_t>(frame.width / Raster::cell),
                .rows = static_cast<std::size_t>(frame.height / Raster::cell)};
  raster.taken.assign(raster.columns * raster.rows, false);
  for (const Rect& rect : sketch.taken)
    raster.mark(rect, 3.0);
  for (const Part& part : sheet.parts)
    for (const Rect& rect : part.placed.frames)
      raster.mark(rect, 3.0);
  const double top = title_top(site, sheet.paper);
  raster.mark({frame.x + frame.width - Paper::title_width, top, Paper::title_width,
               frame.y + frame.height - top},
              2.0);
  const double below = frame.y + frame.height - sheet.notes_end;
  if (below > 0.0) raster.mark({frame.x, sheet.notes_end, frame.width, below}, 0.0);
  raster.mark({frame.x, frame.y, 2.0, frame.height}, 0.0);
  raster.mark({frame.x + frame.width - 2.0, frame.y, 2.0, frame.height}, 0.0);
  raster.mark({frame.x, frame.y, frame.width, 2.0}, 0.0);
  raster.mark({frame.x, frame.y + frame.height - 2.0, frame.width, 2.0}, 0.0);
  return raster;
}

constexpr double least_width = 55.0;  ///< of a column of notes
constexpr double most_width = 92.5;

// The least of every `width` neighbours in a row, by the first of them.
std::vector<std::size_t> least_of_runs(const std::vector<std::size_t>& heights, std::size_t width) {
  if (heights.size() < width) return {};
  std::vector<std::size_t> least(heights.size() - width + 1);
  std::vector<std::size_t> rising(heights.size());  // candidates, the lowest first
  std::size_t first = 0;
  std::size_t last = 0;
  for (std::size_t i = 0; i < heights.size(); ++i) {
    while (last > first && heights[rising[last - 1]] >= heights[i])
      --last;
    rising[last++] = i;
    if (rising[first] + width <= i) ++first;
    if (i + 1 >= width) least[i + 1 - width] = heights[rising[first]];
  }
  return least;
}

// Widens a free run of the least width as long as that makes its rectangle larger.
void widen(const std::vector<std::size_t>& heights, std::size_t left, std::size_t low,
           std::size_t right, const auto& offer) {
  for (; right < heights.size() && low > 0; ++right) {
    low = std::min(low, heights[right]);
    const double width = static_cast<double>(right - left + 1) * Raster::cell;
    if (width > most_width) return;
    offer(width, static_cast<double>(low) * Raster::cell);
  }
}

// The largest free rectangle no wider than a column of notes may be: for every row the heights of
// free columns above it, then the widest run under each height. Runs that even the greatest width
// would not make larger than what is known are passed over.
Rect largest_free(const Raster& raster) {
  const auto narrow = static_cast<std::size_t>(least_width / Raster::cell);
  std::vector<std::size_t> heights(raster.columns, 0);
  Rect best;
  for (std::size_t row = 0; row < raster.rows; ++row) {
    for (std::size_t c = 0; c < raster.columns; ++c)
      heights[c] = raster.taken[row * raster.columns + c] ? 0 : heights[c] + 1;
    const std::vector<std::size_t> least = least_of_runs(heights, narrow);
    for (std::size_t left = 0; left < least.size(); ++left) {
      const double highest = static_cast<double>(least[left]) * Raster::cell;
      if (highest * most_width <= best.width * best.height) continue;
      widen(heights, left, least[left], left + narrow - 1, [&](double width, double high) {
        if (width * high <= best.width * best.height) return;
        best = {raster.frame.x + static_cast<double>(left) * Raster::cell,
                raster.frame.y + static_cast<double>(row + 1) * Raster::cell - high, width, high};
      });
    }
  }
  return best;
}

// Free places for notes, the largest first.
std::vector<Rect> free_places(const site::Site& site, const SheetPlan& sheet, const Sketch& sketch,
                              const std::vector<Rect>& used) {
  constexpr int most = 4;
  constexpr double least_height = 22.0;
  Raster raster = raster_of(site, sheet, sketch);
  for (const Rect& rect : used)
    raster.mark(rect, 2.0);
  std::vector<Rect> places;
  while (places.size() < most) {
    const Rect best = largest_free(raster);
    if (best.height < least_height) break;
    places.push_back(best);
    raster.mark(best, 2.0);
  }
  return places;
}

}  // namespace

NotePlaces note_places(const site::Site& site, const SheetPlan& sheet, const Sketch& sketch) {
  constexpr double least_column = 55.0;
  const Paper& paper = sheet.paper;
  const Rect& frame = paper.frame;
  const Placed& last = sheet.parts.back().placed;
  NotePlaces places;
  std::vector<Rect>& columns = places.columns;
  if (sheet.notes == NotesAt::right) {
    const double left = sheet.parts.front().placed.area.right + notes_gap;
    const double top = frame.y + 4.0;
    const double bottom = std::min(title_top(site, paper), sheet.notes_end);
    columns.push_back({left, top, paper.right() - 5.0 - left, bottom - top - 2.0});
  }
  const double left = last.area.left;
  const double room = paper.title_left() - notes_gap - left;
  if (sheet.notes == NotesAt::below && room >= least_column) {
    const int count =
        std::min(3, static_cast<int>((room + notes_gap) / (least_column + notes_gap)));
    const double top = std::max(last.table_bottom + notes_gap, title_top(site, paper));
    const double width = (room - notes_gap * (count - 1)) / count;
    for (int i = 0; i < count; ++i)
      columns.push_back({left + (width + notes_gap) * i, top, width, paper.bottom() - 3.0 - top});
  }
  const std::vector<Rect> further = free_places(site, sheet, sketch, columns);
  columns.insert(columns.end(), further.begin(), further.end());
  return places;
}

}  // namespace linewright::diagram
