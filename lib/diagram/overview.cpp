#include "diagram/overview.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include <fmt/format.h>

#include "diagram/divide.hpp"
#include "diagram/draw.hpp"
#include "diagram/paper.hpp"
#include "diagram/sheets.hpp"
#include "diagram/side_notes.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double notes_gap = 6.0;

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

std::vector<Rect> note_columns(const site::Site& site, const SheetPlan& sheet,
                               const Sketch& sketch) {
  const Rect& frame = sheet.paper.frame;
  const double right = frame.x + frame.width;
  const Placed& last = sheet.parts.back().placed;
  std::vector<Rect> columns;
  if (sheet.notes == NotesAt::right) {
    const double left = sheet.parts.front().placed.area.right + notes_gap;
    const double top = frame.y + 4.0;
    const double bottom = std::min(title_top(site, sheet.paper), sheet.notes_end);
    columns.push_back({left, top, right - 5.0 - left, bottom - top - 2.0});
  }
  constexpr double least_column = 55.0;
  const double left = last.area.left;
  const double room = right - Paper::title_width - notes_gap - left;
  if (sheet.notes == NotesAt::below && room >= least_column) {
    const int count =
        std::min(3, static_cast<int>((room + notes_gap) / (least_column + notes_gap)));
    const double top = std::max(last.table_bottom + notes_gap, title_top(site, sheet.paper));
    const double width = (room - notes_gap * (count - 1)) / count;
    for (int i = 0; i < count; ++i)
      columns.push_back(
          {left + (width + notes_gap) * i, top, width, frame.y + frame.height - 3.0 - top});
  }
  const std::vector<Rect> further = free_places(site, sheet, sketch, columns);
  columns.insert(columns.end(), further.begin(), further.end());
  return columns;
}

// "+A5, +A6", or the first and the last of many.
std::string boards_of(const site::Site& site, const SheetPlan& sheet) {
  constexpr std::size_t most_named = 6;
  std::vector<std::string> boards;
  for (const Part& part : sheet.parts) {
    for (const std::size_t assembly : boards_on(part.plan)) {
      const std::string& board = site.assemblies[assembly].designation;
      if (std::find(boards.begin(), boards.end(), board) == boards.end()) boards.push_back(board);
    }
  }
  if (boards.size() > most_named) return boards.front() + " to " + boards.back();
  return fmt::format("{}", fmt::join(boards, ", "));
}

std::vector<Drawing> drawings_of(const site::Site& site, const SheetPlan& sheet) {
  std::vector<Drawing> drawings;
  for (const Part& part : sheet.parts)
    drawings.push_back({site, part.plan, part.measures, part.placed});
  return drawings;
}

// What fits no chain is said in words, each in the group of its element or run.
std::vector<std::string> further_of(const Drawing& drawing, Sketch& sketch) {
  std::vector<std::string> lines;
  for (const std::size_t element : drawing.plan.loose_elements) {
    element_group(drawing, sketch, element);
    lines.push_back(drawing.site.elements[element].designation + ": " +
                    describe(drawing.site, element) + ", joined to nothing");
  }
  for (const std::size_t run : drawing.plan.loose_runs) {
    draw_run(drawing, sketch, run, {});
    lines.push_back(describe(drawing.site, drawing.site.runs[run]));
  }
  return lines;
}

// What no sheet could hold is said in words as well, so that nothing is lost.
std::vector<std::string> undrawn_of(const site::Site& site, const std::vector<Plan>& plans) {
  std::vector<std::string> lines;
  for (const Plan& plan : plans) {
    for (const Hub& hub : plan.hubs)
      if (hub.element != none && hub.kind != HubKind::joint && !hub.continued)
        lines.push_back(site.elements[hub.element].designation + ": " +
                        describe(site, hub.element));
    for (const Chain& chain : plan.chains)
      for (const Piece& piece : chain.pieces)
        lines.push_back(piece.kind == Piece::Kind::run ? describe(site, site.runs[piece.index])
                                                       : site.elements[piece.index].designation +
                                                             ": " + describe(site, piece.index));
  }
  return lines;
}

/// Sheets under way: number and count are known when all are drawn.
struct Drawn {
  const site::Site& site;
  const Metrics& metrics;
  const OverviewNotes& notes;
  std::vector<Sheet> sheets;
  std::vector<SheetFacts> facts;  ///< by sheet
};

SheetFacts facts_of(const Drawn& drawn, std::string title, std::string type) {
  SheetFacts facts{.title = std::move(title),
                   .supplement = drawn.site.title.site_name,
                   .document_type = std::move(type),
                   .rules = drawn.notes.rules};
  return facts;
}

// Notes for which no drawn sheet had room get sheets of their own.
void draw_rest(Drawn& drawn, NotesLeft left) {
  constexpr int most = 8;
  const Paper paper = paper_of(drawn.site);
  const Rect& frame = paper.frame;
  const int columns_count = static_cast<int>(frame.width / 85.0);
  const double width = (frame.width - 8.0 - notes_gap * (columns_count - 1)) / columns_count;
  std::vector<Rect> columns;
  for (int i = 0; i < columns_count; ++i)
    columns.push_back({frame.x + 4.0 + (width + notes_gap) * i, frame.y + 4.0, width,
                       title_top(drawn.site, paper) - frame.y - 6.0});
  for (int page = 0; page < most && !left.empty(); ++page) {
    Sheet sheet = sheet_of(paper, fmt::format("notes-{}", page + 1), "Notes and symbols");
    Sketch sketch{.metrics = drawn.metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    left = draw_notes(left, columns, sketch);
    drawn.sheets.push_back(std::move(sheet));
    drawn.facts.push_back(facts_of(drawn, "Notes and symbols", "Notes"));
  }
}

std::vector<std::string> united(std::vector<std::string> all,
                                const std::vector<std::string>& more) {
  for (const std::string& one : more)
    if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
  return all;
}

// The notes of a sheet; the last one takes over what symbols are still to be explained, if all of
// them have room there. What found none is added to the rest.
void draw_sheet_notes(const Drawn& drawn, const SheetPlan& part, bool last, Sketch& sketch,
                      NotesLeft& rest) {
  const bool first = drawn.sheets.empty();
  NotesLeft here = first ? notes_of(drawn.site, drawn.notes) : NotesLeft{};
  here.symbols = sketch.symbols;
  here.further = further_of(drawings_of(drawn.site, part).front(), sketch);
  const std::vector<Rect> columns = note_columns(drawn.site, part, sketch);
  if (first) {
    rest = draw_notes(here, columns, sketch);
    return;
  }
  if (last && !rest.symbols.empty()) {
    NotesLeft all = here;
    all.symbols = united(here.symbols, rest.symbols);
    if (draw_notes(all, columns, sketch).symbols.empty()) {
      rest.symbols.clear();
      return;
    }
  }
  rest.symbols = united(rest.symbols, draw_notes(here, columns, sketch).symbols);
}

void draw_part(Drawn& drawn, const SheetPlan& part, bool last, NotesLeft& rest) {
  const std::size_t number = drawn.sheets.size() + 1;
  const bool first = number == 1;
  const std::string title = first ? "Single-line diagram" : "Boards " + boards_of(drawn.site, part);
  Sheet sheet = sheet_of(part.paper, first ? "overview" : fmt::format("boards-{}", number),
                         first ? "Overview" : title);
  Sketch sketch{.metrics = drawn.metrics, .sheet = sheet, .taken = {}, .symbols = {}};
  draw_frame(sketch);
  draw(drawings_of(drawn.site, part), sketch);
  draw_sheet_notes(drawn, part, last, sketch, rest);
  drawn.facts.push_back(facts_of(drawn, title, first ? "Overview diagram" : "Single-line diagram"));
  if (!drawn.notes.dangers.empty()) drawn.facts.back().supplement += " – has open dangers";
  drawn.sheets.push_back(std::move(sheet));
}

std::vector<Sheet> draw_sheets(const site::Site& site, const Metrics& metrics,
                               const OverviewNotes& notes, const Division& division) {
  Drawn drawn{.site = site, .metrics = metrics, .notes = notes, .sheets = {}, .facts = {}};
  NotesLeft rest;
  for (std::size_t i = 0; i < division.sheets.size(); ++i)
    draw_part(drawn, division.sheets[i], i + 1 == division.sheets.size(), rest);
  const std::vector<std::string> undrawn = undrawn_of(site, division.misfits);
  rest.further.insert(rest.further.end(), undrawn.begin(), undrawn.end());
  draw_rest(drawn, std::move(rest));
  for (std::size_t i = 0; i < drawn.sheets.size(); ++i) {
    drawn.facts[i].number = static_cast<int>(i) + 1;
    drawn.facts[i].count = static_cast<int>(drawn.sheets.size()) + notes.further_sheets;
    Sketch sketch{.metrics = metrics, .sheet = drawn.sheets[i], .taken = {}, .symbols = {}};
    draw_title_block(site, drawn.facts[i], sketch);
  }
  return std::move(drawn.sheets);
}

// The same metrics, but each text is measured once: the search asks for its width time and again.
Metrics remembering(const Metrics& metrics) {
  using Key = std::tuple<std::string, double, Weight>;
  const auto known = std::make_shared<std::map<Key, double>>();
  Metrics result = metrics;
  result.text_width = [known, measure = metrics.text_width](std::string_view text, double height,
                                                            Weight weight) {
    const auto [at, is_new] = known->try_emplace(Key{text, height, weight}, 0.0);
    if (is_new) at->second = measure(text, height, weight);
    return at->second;
  };
  return result;
}

}  // namespace

Document overview(const site::Site& site, const Metrics& given, const OverviewNotes& notes) {
  const Metrics metrics = remembering(given);
  Document document{.title = site.title.site_name + ", single-line diagram",
                    .subject = "Single-line diagram",
                    .author = site.title.owner,
                    .language = site.title.language,
                    .date = site.title.date};
  const auto holds_notes = [&](const SheetPlan& plan) {
    Sheet sheet = sheet_of(plan.paper, "", "");
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw(drawings_of(site, plan), sketch);
    const NotesLeft left =
        draw_notes(notes_of(site, notes), note_columns(site, plan, sketch), sketch);
    return left.empty();
  };
  const Division division = divide(site, metrics, holds_notes);
  document.sheets = draw_sheets(site, metrics, notes, division);
  return document;
}

}  // namespace linewright::diagram
