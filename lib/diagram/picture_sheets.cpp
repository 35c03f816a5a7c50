// Pictures side by side on sheets, each with its heading: states first, then hazards.
#include <algorithm>
#include <optional>
#include <span>
#include <utility>

#include <fmt/core.h>

#include "diagram/paper.hpp"
#include "diagram/picture_draw.hpp"
#include "diagram/picture_legend.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double cell_margin = 2.5;

/// How many pictures stand beside and below each other.
struct Grid {
  int columns = 1;
  int rows = 1;
  int count() const { return columns * rows; }
};

Rect area_of(const site::Site& site) {
  const Rect frame = paper_of(site).frame;
  const double below = has_legend_beside(site) ? 2.0 : 7.0;
  return {frame.x, frame.y, frame.width, title_top(site, paper_of(site)) - frame.y - below};
}

Rect cell_of(const Rect& area, Grid grid, int index) {
  const double width = area.width / grid.columns;
  const double height = area.height / grid.rows;
  const int row = index / grid.columns;
  const int column = index % grid.columns;
  return {area.x + width * column, area.y + height * row, width, height};
}

/// Grids for so many pictures, the one with the fewest sheets first.
std::vector<Grid> grids_for(std::size_t pictures) {
  if (pictures <= 1) return {{1, 1}};
  if (pictures == 2) return {{2, 1}, {1, 1}};
  if (pictures == 3) return {{3, 1}, {2, 1}, {1, 1}};
  if (pictures == 4) return {{2, 2}, {2, 1}, {1, 1}};
  return {{3, 2}, {2, 2}, {2, 1}, {1, 1}};
}

std::size_t quotient_up(std::size_t a, std::size_t b) {
  return (a + b - 1) / b;
}

/// A layout with the grid it was made for, and how many pictures stand on a sheet.
struct Chosen {
  Grid grid;
  std::size_t per_sheet = 1;
  PictureLayout layout;
};

/// A heading broken into lines; the first line below the name stands beside it where it fits.
struct Heading {
  std::vector<std::string> name;
  bool beside = false;
  std::vector<std::string> lines;

  double height() const {
    const auto count = static_cast<double>(lines.size() - (beside ? 1 : 0));
    return 1.3 + name_pitch * static_cast<double>(name.size()) + line_pitch * count;
  }
  static constexpr double name_pitch = 4.4;
};

Heading heading_of(const Metrics& metrics, const Picture& picture, double width) {
  Heading heading;
  heading.name =
      wrapped(metrics, picture.heading, width * text_height / heading_height, Weight::bold);
  for (const std::string& line : picture.lines)
    for (std::string& part : wrapped(metrics, line, width))
      heading.lines.push_back(std::move(part));
  if (heading.lines.empty() || heading.name.size() != 1) return heading;
  const double used = metrics.text_width(picture.heading, heading_height, Weight::bold) + 3.0 +
                      metrics.text_width(heading.lines.front(), text_height, Weight::regular);
  heading.beside = used <= width;
  return heading;
}

double heading_width(const Rect& cell) {
  return cell.width - 2.0 * cell_margin - 2.0;
}

// Room for the tallest of the headings, so that all pictures stand at one height.
double heading_room(const Metrics& metrics, const PictureSet& set, const Rect& cell) {
  double room = 0.0;
  for (const Picture& picture : set.pictures)
    room = std::max(room, heading_of(metrics, picture, heading_width(cell)).height());
  return room + 2.0;
}

// How far the ink of pictures of one layout reaches to both sides, from its origin.
Rect span_of(const site::Site& site, const Metrics& metrics, const PictureSet& set,
             const PictureLayout& layout) {
  const double origin = paper_of(site).frame.x + 10.0;
  double left = 1e9;
  double right = 0.0;
  for (const Picture& picture : set.pictures) {
    Sheet sheet = sheet_of(paper_of(site), "", "");
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_picture({site, set, picture, layout, sketch, {origin, 0.0}});
    std::vector<Rect> ink = sketch.taken;
    for (const Group& group : sheet.groups)
      for (const Item& item : group.items)
        if (const auto* box = std::get_if<Box>(&item)) ink.push_back(box->rect);
    for (const Rect& rect : ink) {
      left = std::min(left, rect.x);
      right = std::max(right, rect.x + rect.width);
    }
  }
  return {left - origin, 0.0, right - left, 0.0};
}

// Words reach out of what was laid out, further where they are bold: then it is laid out narrower.
std::optional<PictureLayout> laid_out(const site::Site& site, const Metrics& metrics,
                                      const PictureSet& set, const PicturePlan& plan, Grid grid) {
  double most = 0.8;
  constexpr double least = 0.38;
  constexpr double at_any_price = 0.2;
  constexpr double rim = 1.0;
  const Rect cell = cell_of(area_of(site), grid, 0);
  const double smallest = grid.count() == 1 ? at_any_price : least;
  const double room = heading_room(metrics, set, cell);
  double width = cell.width - 2.0 * cell_margin;
  for (int round = 0; round < 5; ++round) {
    auto layout = lay_out_picture(plan, set, metrics, width, cell.height - room - cell_margin, most,
                                  smallest);
    if (!layout) return layout;
    const double beyond = span_of(site, metrics, set, *layout).width - (cell.width - 2.0 * rim);
    if (beyond <= 0.0) return layout;
    width -= beyond + 0.5;
    most = layout->scale;
  }
  return std::nullopt;
}

// As few sheets as can be; over these the pictures are spread evenly, in larger cells if that
// leaves some empty.
std::optional<Chosen> choose(const site::Site& site, const Metrics& metrics,
                             const PictureSet& set) {
  const PicturePlan plan = picture_plan(site, set);
  const std::size_t pictures = set.pictures.size();
  for (const Grid grid : grids_for(pictures)) {
    auto layout = laid_out(site, metrics, set, plan, grid);
    if (!layout) continue;
    const auto cells = static_cast<std::size_t>(grid.count());
    const std::size_t each = quotient_up(pictures, quotient_up(pictures, cells));
    const Grid roomy = grids_for(each).front();
    if (roomy.count() < grid.count())
      if (auto larger = laid_out(site, metrics, set, plan, roomy))
        return Chosen{roomy, each, std::move(*larger)};
    return Chosen{grid, each, std::move(*layout)};
  }
  return std::nullopt;
}

void draw_heading(Sketch& sketch, const Picture& picture, const Rect& cell) {
  Group& group = sketch.group("picture", picture.name, picture.heading, "");
  for (const std::string& line : picture.lines)
    group.description += (group.description.empty() ? "" : "; ") + line;
  Point at{cell.x + cell_margin + 1.0, cell.y + 5.5};
  const Heading heading = heading_of(sketch.metrics, picture, heading_width(cell));
  for (const std::string& line : heading.name) {
    sketch.text(group, {.at = at, .text = line, .height = heading_height, .weight = Weight::bold});
    at.y += Heading::name_pitch;
  }
  for (std::size_t i = 0; i < heading.lines.size(); ++i) {
    if (i == 0 && heading.beside) {
      const double name =
          sketch.metrics.text_width(picture.heading, heading_height, Weight::bold) + 3.0;
      sketch.text(group,
                  {.at = {at.x + name, at.y - Heading::name_pitch}, .text = heading.lines[0]});
      continue;
    }
    sketch.text(group, {.at = at, .text = heading.lines[i]});
    at.y += line_pitch;
  }
}

// Rules between the cells that are in use.
void draw_cells(Sketch& sketch, const Rect& area, Grid grid) {
  Group& group = sketch.group("frame", "", "", "");
  for (int c = 1; c < grid.columns; ++c) {
    const double x = area.x + area.width / grid.columns * c;
    group.items.emplace_back(
        Polyline{.points = {{x, area.y + 2.0}, {x, area.y + area.height - 2.0}},
                 .stroke = Stroke::hairline});
  }
  for (int r = 1; r < grid.rows; ++r) {
    const double y = area.y + area.height / grid.rows * r;
    group.items.emplace_back(Polyline{.points = {{area.x + 2.0, y}, {area.x + area.width - 2.0, y}},
                                      .stroke = Stroke::hairline});
  }
}

/// Pictures of one kind and what their sheets are called.
struct Part {
  std::string name;
  std::string title;
  PictureSet set;
};

std::vector<Part> parts_of(const PictureSet& set) {
  std::vector<Part> parts;
  for (const PictureOf kind : {PictureOf::state, PictureOf::hazard}) {
    const bool states = kind == PictureOf::state;
    Part part{states ? "states" : "hazards", states ? "States" : "Hazards within reach", set};
    std::erase_if(part.set.pictures, [&](const Picture& picture) { return picture.of != kind; });
    if (!part.set.pictures.empty()) parts.push_back(std::move(part));
  }
  return parts;
}

/// Where a sheet of pictures begins in the set, and what it is called.
struct Page {
  std::size_t first = 0;
  std::size_t count = 0;
  std::string name;
  std::string title;
};

std::vector<Page> pages_of(const Part& part, std::size_t per_sheet) {
  std::vector<Page> pages;
  for (std::size_t from = 0; from < part.set.pictures.size(); from += per_sheet) {
    const std::size_t number = pages.size() + 1;
    pages.push_back({from, std::min(per_sheet, part.set.pictures.size() - from),
                     number == 1 ? part.name : fmt::format("{}-{}", part.name, number),
                     number == 1 ? part.title : fmt::format("{}, sheet {}", part.title, number)});
  }
  return pages;
}

/// Draws the sheets of a part; returns whether all their legends are whole.
Legend draw_part(const site::Site& site, const Metrics& metrics, const Part& part,
                 const Chosen& chosen, std::vector<Sheet>& sheets) {
  const Rect area = area_of(site);
  const PictureSet& set = part.set;
  const Rect span = span_of(site, metrics, set, chosen.layout);
  const double room = heading_room(metrics, set, cell_of(area, chosen.grid, 0));
  Legend legend = Legend::whole;
  for (const Page& page : pages_of(part, chosen.per_sheet)) {
    Sheet sheet = sheet_of(paper_of(site), page.name, page.title);
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    draw_cells(sketch, area, chosen.grid);
    const std::span pictures(set.pictures.data() + page.first, page.count);
    for (std::size_t p = 0; p < pictures.size(); ++p) {
      const Rect cell = cell_of(area, chosen.grid, static_cast<int>(p));
      sketch.taken.clear();
      draw_heading(sketch, pictures[p], cell);
      const Point origin{cell.x + (cell.width - span.width) / 2.0 - span.x, cell.y + room};
      draw_picture({site, set, pictures[p], chosen.layout, sketch, origin});
    }
    if (draw_legend({site, set, pictures, chosen.layout}, sketch) == Legend::cut)
      legend = Legend::cut;
    sheets.push_back(std::move(sheet));
  }
  return legend;
}

/// "41 boards and panels, 3 sources"
std::string size_of(const site::Site& site, const PictureSet& set) {
  const std::size_t boards = site.assemblies.size();
  const std::size_t sources = set.sources.size();
  return fmt::format("{} {}, {} {}", boards, boards == 1 ? "board or panel" : "boards and panels",
                     sources, sources == 1 ? "source" : "sources");
}

// In place of pictures that fit no sheet: that there are none, and what to do.
Sheet sheet_without(const site::Site& site, const Metrics& metrics, const Part& part) {
  Sheet sheet = sheet_of(paper_of(site), part.name, part.title);
  Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
  draw_frame(sketch);
  const Rect area = area_of(site);
  Point at{area.x + 10.0, area.y + 15.0};
  Group& group = sketch.group("notes", "", "No pictures", "The pictures fit no sheet");
  sketch.text(group, {.at = at,
                      .text = "No pictures: the site fits no sheet of A3",
                      .height = heading_height,
                      .weight = Weight::bold});
  at.y += 8.0;
  const std::vector<std::string> texts{
      fmt::format("A picture of this site ({}) would be too small to read. Nothing is left out of "
                  "the checks and the proof for that.",
                  size_of(site, part.set)),
      "Where each switch stands, what feeds each board and where neutral meets earth is in the "
      "table that 'linewright states FILE' prints; hazards within reach and the way to them are in "
      "the certificate that 'linewright prove FILE' prints.",
      "For pictures, write the boards that only feed circuits as circuits of the board above them, "
      "in a copy of the file, and draw that with '--states'."};
  for (const std::string& text : texts) {
    for (const std::string& line : wrapped(metrics, text, 180.0)) {
      sketch.text(group, {.at = at, .text = line});
      at.y += line_pitch;
    }
    at.y += line_pitch;
  }
  return sheet;
}

std::string notice_of(const site::Site& site, const PictureSet& set) {
  return fmt::format(
      "no pictures of the states: the site ({}) fits no sheet of A3 so that it can be read; "
      "'linewright states FILE' prints them as a table; for pictures, write boards that only feed "
      "circuits as circuits of the board above them, in a copy of the file",
      size_of(site, set));
}

}  // namespace

PictureSheets picture_sheets(const site::Site& site, const Metrics& metrics,
                             const PictureSet& set) {
  PictureSheets drawn;
  std::optional<PictureLayout> cut;
  for (const Part& part : parts_of(set)) {
    const auto chosen = choose(site, metrics, part.set);
    if (!chosen) {
      drawn.sheets.push_back(sheet_without(site, metrics, part));
      drawn.notices = {notice_of(site, set)};
      return drawn;
    }
    if (draw_part(site, metrics, part, *chosen, drawn.sheets) == Legend::cut) cut = chosen->layout;
  }
  if (cut)
    for (Sheet& sheet : legend_sheets({site, set, set.pictures, *cut}, metrics))
      drawn.sheets.push_back(std::move(sheet));
  return drawn;
}

void number_sheets(const site::Site& site, const Metrics& metrics, const std::string& rules,
                   int first, std::vector<Sheet>& sheets) {
  const int last = first + static_cast<int>(sheets.size()) - 1;
  for (Sheet& sheet : sheets) {
    const bool states = sheet.name.starts_with("states");
    add_title_block(site,
                    {.title = states ? "How the site runs" : sheet.title,
                     .supplement = site.title.site_name,
                     .document_type = "States",
                     .rules = rules,
                     .number = first++,
                     .count = last},
                    metrics, sheet);
  }
}

}  // namespace linewright::diagram
