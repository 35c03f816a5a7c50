#include "diagram/overview.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include <fmt/format.h>

#include "diagram/divide.hpp"
#include "diagram/draw.hpp"
#include "diagram/earthing_sheet.hpp"
#include "diagram/note_places.hpp"
#include "diagram/paper.hpp"
#include "diagram/sheets.hpp"
#include "diagram/side_notes.hpp"
#include "diagram/text_sheets.hpp"

namespace linewright::diagram {
namespace {

using site::none;

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

bool has_one_text(const Group& group) {
  return std::ranges::count_if(
             group.items, [](const Item& item) { return std::holds_alternative<Text>(item); }) == 1;
}

// What fits no chain is said in words, each in the group of its element or run; so are the names of
// boards that had no room at their frames.
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
  for (const Frame& frame : drawing.plan.frames) {
    if (frame.assembly == none || drawing.site.assemblies[frame.assembly].name.empty()) continue;
    const site::Assembly& board = drawing.site.assemblies[frame.assembly];
    const bool bare = std::ranges::any_of(sketch.sheet.groups, [&](const Group& group) {
      return group.kind == "boundary" && group.id == board.designation && has_one_text(group);
    });
    if (bare) lines.push_back(board.designation + ": " + board.name);
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
  if (!notes.dangers.empty()) facts.remark = "has open dangers";
  return facts;
}

/// A sheet under way with what its title block will say.
struct DrawnSheet {
  Sheet sheet;
  SheetFacts facts;
  std::vector<std::string> symbols;
  std::vector<Rect> taken;
};

// The diagrams themselves, still without notes and title blocks.
std::vector<DrawnSheet> diagram_pages(const site::Site& site, const Metrics& metrics,
                                      const OverviewNotes& notes, const Division& division) {
  std::vector<DrawnSheet> pages;
  for (std::size_t i = 0; i < division.sheets.size(); ++i) {
    const SheetPlan& part = division.sheets[i];
    DrawnSheet page{sheet_of(part.paper, i == 0 ? "overview" : fmt::format("boards-{}", i + 1),
                             i == 0 ? "Overview" : "Boards " + boards_of(site, part)),
                    facts_of(site, notes, part, static_cast<int>(i) + 1, 1),
                    {},
                    {}};
    Sketch sketch{.metrics = metrics, .sheet = page.sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    draw(drawings_of(site, part), sketch);
    page.symbols = std::move(sketch.symbols);
    page.taken = std::move(sketch.taken);
    pages.push_back(std::move(page));
  }
  return pages;
}

// The sheets of the earthing, with references both ways.
void add_earthing(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes,
                  const Division& division, std::vector<DrawnSheet>& pages) {
  std::vector<const Sheet*> drawn;
  for (const DrawnSheet& page : pages)
    drawn.push_back(&page.sheet);
  EarthingSheets earthing = earthing_sheets(site, metrics, notes, drawn);
  if (earthing.sheets.empty()) return;
  for (std::size_t i = 0; i < pages.size(); ++i)
    refer_to_earthing(site, metrics, pages.size() + 1,
                      division.sheets[i].parts.front().placed.area.right, pages[i].sheet,
                      pages[i].taken);
  for (Sheet& sheet : earthing.sheets) {
    SheetFacts facts{.title = sheet.title,
                     .supplement = site.title.site_name,
                     .document_type = "Earthing diagram",
                     .rules = notes.rules};
    pages.push_back({std::move(sheet), std::move(facts), earthing.symbols, {}});
  }
}

void add_new(const std::vector<std::string>& symbols, std::vector<std::string>& to) {
  for (const std::string& symbol : symbols)
    if (std::ranges::count(to, symbol) == 0) to.push_back(symbol);
}

// Where the symbols are explained, as a note that leads there.
void link_symbols(const Metrics& metrics, const std::string& words, const std::string& sheet_name,
                  Sheet& sheet) {
  for (Group& group : sheet.groups) {
    if (group.kind != "notes") continue;
    for (std::size_t i = 0; i < group.items.size(); ++i) {
      const auto* text = std::get_if<Text>(&group.items[i]);
      if (text == nullptr || text->text != words) continue;
      group.items.emplace_back(Link{ink_of(metrics, *text), sheet_name + "#"});
      return;
    }
  }
}

std::string symbols_note(std::size_t sheet) {
  return fmt::format("Symbols are explained on sheet {}.", sheet);
}

// The equipment that no line shows, beside the boards; what finds no room there comes back.
std::vector<std::string> add_further(const site::Site& site, const Division& division,
                                     const Metrics& metrics, std::vector<DrawnSheet>& pages) {
  std::vector<std::string> rest;
  for (std::size_t i = 1; i < division.sheets.size(); ++i) {
    const SheetPlan& part = division.sheets[i];
    Sketch sketch{
        .metrics = metrics, .sheet = pages[i].sheet, .taken = pages[i].taken, .symbols = {}};
    NotesLeft here;
    here.further = further_of(drawings_of(site, part).front(), sketch);
    const NotesLeft left = draw_notes(here, note_places(site, part, sketch), sketch);
    rest.insert(rest.end(), left.further.begin(), left.further.end());
  }
  const std::vector<std::string> undrawn = undrawn_of(site, division.misfits);
  rest.insert(rest.end(), undrawn.begin(), undrawn.end());
  return rest;
}

void add_text_sheets(const site::Site& site, const OverviewNotes& notes, std::vector<Sheet> sheets,
                     std::vector<DrawnSheet>& pages) {
  for (Sheet& sheet : sheets) {
    SheetFacts facts{.title = sheet.title,
                     .supplement = site.title.site_name,
                     .document_type = "Particulars",
                     .rules = notes.rules};
    pages.push_back({std::move(sheet), std::move(facts), {}, {}});
  }
}

// Notes beside the overview, the symbols of all sheets among them. What finds no room there stands
// with the particulars, and a note says on which sheet the symbols are.
void add_notes(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes,
               const Division& division, std::vector<DrawnSheet>& pages) {
  NotesLeft all = notes_of(site, notes);
  for (const DrawnSheet& page : pages)
    add_new(page.symbols, all.symbols);
  const std::vector<std::string> further = add_further(site, division, metrics, pages);
  const SheetPlan& first = division.sheets.front();
  DrawnSheet& page = pages.front();
  Sketch sketch{.metrics = metrics, .sheet = page.sheet, .taken = page.taken, .symbols = {}};
  all.further = further_of(drawings_of(site, first).front(), sketch);
  const NotePlaces places = note_places(site, first, sketch);
  const auto try_out = [&](const NotesLeft& what) {
    Sheet trial = sheet_of(first.paper, "", "");
    Sketch on_trial{.metrics = metrics, .sheet = trial, .taken = page.taken, .symbols = {}};
    return draw_notes(what, places, on_trial);
  };
  const std::size_t first_text_sheet = pages.size() + 1;
  std::vector<std::string>& said = all.notes;
  NotesLeft rest = try_out(all);
  if (!rest.symbols.empty()) {
    said.push_back(symbols_note(first_text_sheet));
    rest = try_out(all);
    if (!rest.notes.empty()) std::erase(rest.notes, said.back());
  }
  rest.further.insert(rest.further.end(), further.begin(), further.end());
  std::vector<Sheet> sheets = text_sheets(site, metrics, notes, rest);
  if (!rest.symbols.empty()) {
    const auto shows = std::ranges::find_if(sheets, [](const Sheet& sheet) {
      return std::ranges::any_of(sheet.groups, [](const Group& group) {
        return group.kind == "notes" && group.title.starts_with(symbols_heading);
      });
    });
    const auto at = static_cast<std::size_t>(shows - sheets.begin());
    said.back() = symbols_note(first_text_sheet + at);
    draw_notes(all, places, sketch);
    link_symbols(metrics, said.back(), shows->name, page.sheet);
  } else {
    draw_notes(all, places, sketch);
  }
  add_text_sheets(site, notes, std::move(sheets), pages);
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

// Whether what must stand on the overview has room beside the diagram. It is not asked for on small
// paper, nor where it would need a sheet of its own anyway.
bool holds_notes(const site::Site& site, const Metrics& metrics, const OverviewNotes& notes,
                 const SheetPlan& plan) {
  const Paper& paper = plan.paper;
  if (plan.notes == NotesAt::anywhere && paper.is_small()) return true;
  const NotesLeft all = notes_of(site, notes);
  Sheet sheet = sheet_of(paper, "", "");
  Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
  draw(drawings_of(site, plan), sketch);
  if (draw_notes(all, note_places(site, plan, sketch), sketch).told()) return true;
  constexpr double column = 87.0;
  const double height = title_top(site, paper) - paper.frame.y - 6.0;
  const NotePlaces alone{{{paper.frame.x, paper.frame.y, column, height}}};
  return !draw_notes(all, alone, sketch).told();
}

}  // namespace

Document overview(const site::Site& site, const Metrics& given, const OverviewNotes& notes) {
  const Metrics metrics = remembering(given);
  Document document{.title = site.title.site_name + ", single-line diagram",
                    .subject = "Single-line diagram",
                    .author = site.title.owner,
                    .language = site.title.language,
                    .date = site.title.date};
  const Division division = divide(site, metrics, [&](const SheetPlan& plan) {
    return holds_notes(site, metrics, notes, plan);
  });
  std::vector<DrawnSheet> pages = diagram_pages(site, metrics, notes, division);
  add_earthing(site, metrics, notes, division, pages);
  add_notes(site, metrics, notes, division, pages);
  const int count = static_cast<int>(pages.size()) + notes.further_sheets;
  for (DrawnSheet& page : pages) {
    page.facts.number = static_cast<int>(document.sheets.size()) + 1;
    page.facts.count = count;
    add_title_block(site, page.facts, metrics, page.sheet);
    document.sheets.push_back(std::move(page.sheet));
  }
  return document;
}

}  // namespace linewright::diagram
