#include "diagram/overview.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include <fmt/core.h>

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
  for (const Rect& rect : sheet.placed.frames)
    raster.mark(rect, 3.0);
  const double top = title_top(site, sheet.paper);
  raster.mark({frame.x + frame.width - Paper::title_width, top, Paper::title_width,
               frame.y + frame.height - top},
              2.0);
  raster.mark({frame.x, frame.y, 2.0, frame.height}, 0.0);
  raster.mark({frame.x + frame.width - 2.0, frame.y, 2.0, frame.height}, 0.0);
  raster.mark({frame.x, frame.y, frame.width, 2.0}, 0.0);
  raster.mark({frame.x, frame.y + frame.height - 2.0, frame.width, 2.0}, 0.0);
  return raster;
}

// The largest free rectangle no wider than a column of notes may be: for every row the heights of
// free columns above it, then the widest run under each height.
Rect largest_free(const Raster& raster) {
  constexpr double least_width = 55.0;
  constexpr double most_width = 92.5;
  std::vector<std::size_t> height(raster.columns, 0);
  Rect best;
  for (std::size_t row = 0; row < raster.rows; ++row) {
    for (std::size_t c = 0; c < raster.columns; ++c)
      height[c] = raster.taken[row * raster.columns + c] ? 0 : height[c] + 1;
    for (std::size_t left = 0; left < raster.columns; ++left) {
      std::size_t low = height[left];
      for (std::size_t right = left; right < raster.columns && low > 0; ++right) {
        low = std::min(low, height[right]);
        const double width = static_cast<double>(right - left + 1) * Raster::cell;
        if (width > most_width) break;
        const double high = static_cast<double>(low) * Raster::cell;
        if (width < least_width || width * high <= best.width * best.height) continue;
        best = {raster.frame.x + static_cast<double>(left) * Raster::cell,
                raster.frame.y + static_cast<double>(row + 1) * Raster::cell - high, width, high};
      }
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
  std::vector<Rect> columns;
  if (sheet.notes == NotesAt::right) {
    const double left = sheet.placed.area.right + notes_gap;
    const double top = frame.y + 4.0;
    columns.push_back({left, top, right - 5.0 - left, title_top(site, sheet.paper) - top - 2.0});
  }
  constexpr double least_column = 55.0;
  const double left = sheet.placed.area.left;
  const double room = right - Paper::title_width - notes_gap - left;
  if (sheet.notes == NotesAt::below && room >= least_column) {
    const int count =
        std::min(3, static_cast<int>((room + notes_gap) / (least_column + notes_gap)));
    const double top =
        std::max(sheet.placed.table_bottom + notes_gap, title_top(site, sheet.paper));
    const double width = (room - notes_gap * (count - 1)) / count;
    for (int i = 0; i < count; ++i)
      columns.push_back(
          {left + (width + notes_gap) * i, top, width, frame.y + frame.height - 3.0 - top});
  }
  const std::vector<Rect> further = free_places(site, sheet, sketch, columns);
  columns.insert(columns.end(), further.begin(), further.end());
  return columns;
}

std::string boards_of(const site::Site& site, const SheetPlan& sheet) {
  std::string words;
  for (const Frame& frame : sheet.plan.frames) {
    if (frame.assembly == none) continue;
    if (!words.empty()) words += ", ";
    words += site.assemblies[frame.assembly].designation;
  }
  return words;
}

// What fits no chain is said in words, each in the group of its element or run.
std::vector<std::string> further_of(const site::Site& site, const SheetPlan& sheet,
                                    Sketch& sketch) {
  const Drawing drawing{site, sheet.plan, sheet.measures, sheet.placed};
  std::vector<std::string> lines;
  for (const std::size_t element : sheet.plan.loose_elements) {
    element_group(drawing, sketch, element);
    lines.push_back(site.elements[element].designation + ": " + describe(site, element) +
                    ", joined to nothing");
  }
  for (const std::size_t run : sheet.plan.loose_runs) {
    draw_run(drawing, sketch, run, {});
    lines.push_back(describe(site, site.runs[run]));
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

SheetFacts facts_of(const site::Site& site, const OverviewNotes& notes, const SheetPlan& sheet,
                    int number, int count) {
  const bool first = number == 1;
  SheetFacts facts{.title = first ? "Single-line diagram" : "Boards " + boards_of(site, sheet),
                   .supplement = site.title.site_name,
                   .document_type = first ? "Overview diagram" : "Single-line diagram",
                   .rules = notes.rules,
                   .number = number,
                   .count = count};
  if (!notes.dangers.empty()) facts.supplement += " – has open dangers";
  return facts;
}

// Notes for which no drawn sheet had room get sheets of their own.
void draw_rest(const site::Site& site, const OverviewNotes& notes, NotesLeft left,
               const Metrics& metrics, int count, Document& document) {
  constexpr int most = 8;
  const Paper paper = paper_of(site);
  const Rect& frame = paper.frame;
  const int columns_count = static_cast<int>(frame.width / 85.0);
  const double width = (frame.width - 8.0 - notes_gap * (columns_count - 1)) / columns_count;
  std::vector<Rect> columns;
  for (int i = 0; i < columns_count; ++i)
    columns.push_back({frame.x + 4.0 + (width + notes_gap) * i, frame.y + 4.0, width,
                       title_top(site, paper) - frame.y - 6.0});
  for (int page = 0; page < most && !left.empty(); ++page) {
    Sheet sheet = sheet_of(paper, fmt::format("notes-{}", page + 1), "Notes and symbols");
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    left = draw_notes(left, columns, sketch);
    draw_title_block(site,
                     {.title = "Notes and symbols",
                      .supplement = site.title.site_name,
                      .document_type = "Notes",
                      .rules = notes.rules,
                      .number = static_cast<int>(document.sheets.size()) + 1,
                      .count = count},
                     sketch);
    document.sheets.push_back(std::move(sheet));
  }
}

// Draws all sheets; `count` is what their title blocks say.
void draw_sheets(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes,
                 const Division& division, int count, Document& document) {
  document.sheets.clear();
  NotesLeft rest;
  for (std::size_t i = 0; i < division.sheets.size(); ++i) {
    const SheetPlan& part = division.sheets[i];
    Sheet sheet = sheet_of(part.paper, i == 0 ? "overview" : fmt::format("boards-{}", i + 1),
                           i == 0 ? "Overview" : "Boards " + boards_of(site, part));
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    draw({site, part.plan, part.measures, part.placed}, sketch);
    NotesLeft here = i == 0 ? notes_of(site, notes) : NotesLeft{};
    here.symbols = sketch.symbols;
    here.further = further_of(site, part, sketch);
    NotesLeft left = draw_notes(here, note_columns(site, part, sketch), sketch);
    for (const std::string& symbol : left.symbols)
      if (std::find(rest.symbols.begin(), rest.symbols.end(), symbol) == rest.symbols.end())
        rest.symbols.push_back(symbol);
    left.symbols = rest.symbols;
    if (i == 0) rest = std::move(left);
    draw_title_block(site, facts_of(site, notes, part, static_cast<int>(i) + 1, count), sketch);
    document.sheets.push_back(std::move(sheet));
  }
  const std::vector<std::string> undrawn = undrawn_of(site, division.misfits);
  rest.further.insert(rest.further.end(), undrawn.begin(), undrawn.end());
  draw_rest(site, notes, std::move(rest), metrics, count, document);
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
    draw({site, plan.plan, plan.measures, plan.placed}, sketch);
    const NotesLeft left =
        draw_notes(notes_of(site, notes), note_columns(site, plan, sketch), sketch);
    return left.empty();
  };
  const Division division = divide(site, metrics, holds_notes);
  draw_sheets(site, metrics, notes, division, 1, document);
  const int count = static_cast<int>(document.sheets.size()) + notes.further_sheets;
  draw_sheets(site, metrics, notes, division, count, document);
  return document;
}

}  // namespace linewright::diagram
