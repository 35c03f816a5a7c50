// Pictures side by side on sheets, each with its heading, and below them what their marks mean.
#include <algorithm>
#include <array>
#include <utility>

#include <fmt/core.h>

#include "diagram/paper.hpp"
#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double cell_margin = 2.5;
constexpr double legend_pitch = 4.7;

/// How many pictures stand beside and below each other.
struct Grid {
  int columns = 1;
  int rows = 1;
  int count() const { return columns * rows; }
};

Rect area_of(const site::Site& site) {
  const Rect& frame = Paper::frame;
  return {frame.x, frame.y, frame.width, title_top(site) - frame.y - 2.0};
}

Rect cell_of(const Rect& area, Grid grid, int index) {
  const double width = area.width / grid.columns;
  const double height = area.height / grid.rows;
  const int row = index / grid.columns;
  const int column = index % grid.columns;
  return {area.x + width * column, area.y + height * row, width, height};
}

std::vector<Grid> grids_for(std::size_t pictures) {
  if (pictures <= 1) return {{1, 1}};
  if (pictures == 2) return {{2, 1}, {1, 1}};
  if (pictures == 3) return {{3, 1}, {2, 1}, {1, 1}};
  if (pictures == 4) return {{2, 2}, {2, 1}, {1, 1}};
  return {{3, 2}, {2, 2}, {2, 1}, {1, 1}};
}

/// A layout with the grid it was made for.
struct Chosen {
  Grid grid;
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

std::optional<Chosen> choose(const site::Site& site, const Metrics& metrics,
                             const PictureSet& set) {
  constexpr double most = 0.8;
  constexpr double least = 0.38;
  constexpr double at_any_price = 0.2;
  const PicturePlan plan = picture_plan(site, set);
  for (const Grid grid : grids_for(set.pictures.size())) {
    const Rect cell = cell_of(area_of(site), grid, 0);
    const double smallest = grid.count() == 1 ? at_any_price : least;
    const double room = heading_room(metrics, set, cell);
    auto layout = lay_out_picture(plan, set, metrics, cell.width - 2.0 * cell_margin,
                                  cell.height - room - cell_margin, most, smallest);
    if (layout) return Chosen{grid, std::move(*layout)};
  }
  return std::nullopt;
}

// How far a picture's ink reaches to both sides, from the origin of its layout.
Rect span_of(const site::Site& site, const Metrics& metrics, const PictureSet& set,
             const PictureLayout& layout) {
  Sheet sheet;
  Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
  draw_picture({site, set, set.pictures.front(), layout, sketch, {Paper::frame.x + 10.0, 0.0}});
  double left = Paper::width;
  double right = 0.0;
  for (const Rect& rect : sketch.taken) {
    left = std::min(left, rect.x);
    right = std::max(right, rect.x + rect.width);
  }
  return {left - Paper::frame.x - 10.0, 0.0, right - left, 0.0};
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

/// One entry of the legend: a sample drawn 12 mm wide and its words.
struct Entry {
  std::vector<Item> items;  ///< relative to the left end of the sample
  std::string words;
};

Item sample(Stroke stroke, int source = 0) {
  return Polyline{.points = {{0.0, 0.0}, {11.0, 0.0}}, .stroke = stroke, .source = source};
}

Item bit(Point a, Point b, Stroke stroke = Stroke::rule) {
  return Polyline{.points = {a, b}, .stroke = stroke};
}

bool leads_somewhere(const PictureSet& set, std::size_t source) {
  return std::ranges::any_of(set.pictures, [&](const Picture& picture) {
    return std::ranges::any_of(picture.feeds, [&](const auto& feeds) {
      return std::ranges::any_of(feeds, [&](const Feed& feed) {
        return !feed.sources.empty() && feed.sources.front() == source;
      });
    });
  });
}

std::vector<Entry> source_entries(const site::Site& site, const PictureSet& set) {
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < set.sources.size(); ++i) {
    const site::Element& element = site.elements[set.sources[i]];
    const std::string mark = mark_of_source(set, set.sources[i]);
    const bool leads = leads_somewhere(set, set.sources[i]);
    Entry entry;
    if (leads) entry.items.push_back(sample(Stroke::live, static_cast<int>(i) + 1));
    entry.items.emplace_back(Box{.rect = {13.0, -tag_diameter / 2.0, tag_diameter, tag_diameter},
                                 .stroke = Stroke::tag,
                                 .fill = Ink::white});
    entry.items.emplace_back(Text{.at = {13.0 + tag_diameter / 2.0, text_height / 2.0},
                                  .text = mark,
                                  .weight = Weight::bold,
                                  .anchor = Anchor::middle});
    entry.words = (leads ? "alive from " : "") + element.designation;
    if (!element.name.empty()) entry.words += " " + element.name;
    entries.push_back(std::move(entry));
  }
  return entries;
}

Entry switch_entry(bool closed) {
  Entry entry;
  entry.items = {bit({0.0, 0.0}, {3.5, 0.0}), bit({3.5, -0.8}, {3.5, 0.8}),
                 bit({7.5, 0.0}, {11.0, 0.0}),
                 bit({7.5, 0.0}, closed ? Point{3.5, 0.0} : Point{4.0, -1.9})};
  entry.words = closed ? "switch closed" : "switch open";
  return entry;
}

Entry earth_entry(bool works) {
  const Stroke pen = works ? Stroke::frame : Stroke::dead;
  Entry entry;
  entry.items = {bit({0.0, 0.0}, {7.0, 0.0}, pen), bit({7.0, -1.5}, {7.0, 1.5}, pen),
                 bit({7.9, -1.0}, {7.9, 1.0}, pen), bit({8.8, -0.4}, {8.8, 0.4}, pen)};
  entry.words =
      works ? "neutral joined to earth here, for what is alive" : "joint or earth, not at work";
  return entry;
}

template <class Has>
bool any_picture(const PictureSet& set, Has has) {
  return std::ranges::any_of(set.pictures, has);
}

std::vector<Entry> mark_entries(const PictureSet& set) {
  std::vector<Entry> entries;
  entries.push_back({{sample(Stroke::dead)}, "dead"});
  const auto undecided = [](const Picture& picture) {
    return std::ranges::any_of(picture.feeds, [](const auto& feeds) {
      return std::ranges::any_of(feeds,
                                 [](const Feed& f) { return f.sources.empty() && f.undecided; });
    });
  };
  if (any_picture(set, undecided))
    entries.push_back({{sample(Stroke::undecided)}, "the file does not say whether it is alive"});
  entries.push_back(switch_entry(true));
  entries.push_back(switch_entry(false));
  entries.push_back(earth_entry(true));
  entries.push_back(earth_entry(false));
  if (set.faulty != none &&
      any_picture(set, [](const Picture& p) { return !p.fault_out.empty(); })) {
    entries.push_back(
        {{sample(Stroke::fault_out)}, "earth fault of " + set.faulty_name + ": out over the line"});
    entries.push_back({{sample(Stroke::fault_home)}, "home over protective conductor and bond"});
  }
  if (any_picture(set, [](const Picture& p) { return !p.emphasised.empty(); }))
    entries.push_back({{bit({1.6, 0.0}, {9.4, 0.0}, Stroke::halo)}, "the way of the hazard"});
  if (any_picture(set, [](const Picture& p) { return !p.moved.empty(); }))
    entries.push_back({{Box{.rect = {3.5, -1.7, 4.0, 3.4}, .stroke = Stroke::flag}},
                       "moved, started or stopped to bring it about"});
  return entries;
}

std::vector<Entry> board_entries(const site::Site& site, const PictureLayout& layout) {
  std::vector<Entry> entries;
  for (const Frame& frame : layout.what.plan.frames) {
    if (frame.assembly == none) continue;
    const site::Assembly& assembly = site.assemblies[frame.assembly];
    if (assembly.name.empty()) continue;
    entries.push_back(
        {{Text{
             .at = {0.0, text_height / 2.0}, .text = assembly.designation, .weight = Weight::bold}},
         assembly.name});
  }
  std::ranges::stable_sort(entries, [](const Entry& a, const Entry& b) {
    return std::get<Text>(a.items.front()).text < std::get<Text>(b.items.front()).text;
  });
  return entries;
}

void move(Item& item, Point by) {
  if (auto* line = std::get_if<Polyline>(&item))
    for (Point& p : line->points)
      p = {p.x + by.x, p.y + by.y};
  if (auto* box = std::get_if<Box>(&item)) {
    box->rect.x += by.x;
    box->rect.y += by.y;
  }
  if (auto* text = std::get_if<Text>(&item)) text->at = {text->at.x + by.x, text->at.y + by.y};
}

/// A column of the legend; `words_at` from its left edge.
struct Column {
  double x = 0.0;
  double words_at = 13.0;
  double width = 60.0;
};

void draw_entries(Sketch& sketch, Group& group, const std::vector<Entry>& entries, Column column,
                  double top, double bottom) {
  double y = top;
  for (const Entry& entry : entries) {
    const auto lines = wrapped(sketch.metrics, entry.words, column.width - column.words_at);
    const double height = legend_pitch + line_pitch * (static_cast<double>(lines.size()) - 1.0);
    if (y + height > bottom + legend_pitch / 2.0) return;
    for (Item item : entry.items) {
      move(item, {column.x, y});
      group.items.push_back(std::move(item));
    }
    double baseline = y + text_height / 2.0;
    for (const std::string& line : lines) {
      sketch.text(group, {.at = {column.x + column.words_at, baseline}, .text = line});
      baseline += line_pitch;
    }
    y += height;
  }
}

void draw_legend(const site::Site& site, const PictureSet& set, const PictureLayout& layout,
                 Sketch& sketch) {
  const Rect& frame = Paper::frame;
  const double top = title_top(site);
  const double bottom = frame.y + frame.height - 3.0;
  Group& group = sketch.group("legend", "", "Marks", "");
  const double left = frame.x + 4.0;
  const double right = frame.x + frame.width - Paper::title_width - 4.0;
  sketch.text(group, {.at = {left, top + heading_height},
                      .text = "Marks",
                      .height = heading_height,
                      .weight = Weight::bold});
  sketch.line(group, {{left, top + 5.0}, {right, top + 5.0}}, Stroke::rule);
  const double first = top + 8.5;
  const std::vector<Entry> sources = source_entries(site, set);
  draw_entries(sketch, group, sources, {left, 18.0, 66.0}, first, bottom);
  draw_entries(sketch, group, mark_entries(set), {left + 68.0, 13.0, 78.0}, first, bottom);
  draw_entries(sketch, group, board_entries(site, layout),
               {left + 148.0, 9.0, right - left - 148.0}, first, bottom);
}

}  // namespace

std::vector<Sheet> picture_sheets(const site::Site& site, const Metrics& metrics,
                                  const PictureSet& set) {
  std::vector<Sheet> sheets;
  if (set.pictures.empty()) return sheets;
  const auto chosen = choose(site, metrics, set);
  if (!chosen) return sheets;
  const Rect area = area_of(site);
  const auto per_sheet = static_cast<std::size_t>(chosen->grid.count());
  const Rect span = span_of(site, metrics, set, chosen->layout);
  const double room = heading_room(metrics, set, cell_of(area, chosen->grid, 0));
  for (std::size_t from = 0; from < set.pictures.size(); from += per_sheet) {
    const std::size_t number = sheets.size() + 1;
    Sheet sheet{.name = number == 1 ? "states" : fmt::format("states-{}", number),
                .title = number == 1 ? "States" : fmt::format("States, sheet {}", number)};
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    draw_cells(sketch, area, chosen->grid);
    for (std::size_t p = from; p < std::min(from + per_sheet, set.pictures.size()); ++p) {
      const Rect cell = cell_of(area, chosen->grid, static_cast<int>(p - from));
      sketch.taken.clear();
      draw_heading(sketch, set.pictures[p], cell);
      draw_picture({site,
                    set,
                    set.pictures[p],
                    chosen->layout,
                    sketch,
                    {cell.x + (cell.width - span.width) / 2.0 - span.x, cell.y + room}});
    }
    draw_legend(site, set, chosen->layout, sketch);
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

void number_sheets(const site::Site& site, const Metrics& metrics, const std::string& rules,
                   int first, std::vector<Sheet>& sheets) {
  const int last = first + static_cast<int>(sheets.size()) - 1;
  for (Sheet& sheet : sheets) {
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_title_block(site,
                     {.title = "How the site runs",
                      .supplement = site.title.site_name,
                      .document_type = "States",
                      .rules = rules,
                      .number = first++,
                      .count = last},
                     sketch);
  }
}

}  // namespace linewright::diagram
