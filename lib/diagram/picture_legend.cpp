#include "diagram/picture_legend.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include <fmt/core.h>

#include "diagram/paper.hpp"
#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double legend_pitch = 4.7;
constexpr double least_legend = 74.0;  ///< mm beside the title block

/// One entry of the legend: a sample and its words.
struct Entry {
  std::vector<Item> items;  ///< relative to the left end of the sample
  std::string words;
  double words_at = 13.0;  ///< from the left end of the sample
};

Item sample(Stroke stroke, int source = 0) {
  return Polyline{.points = {{0.0, 0.0}, {11.0, 0.0}}, .stroke = stroke, .source = source};
}

Item bit(Point a, Point b, Stroke stroke = Stroke::rule) {
  return Polyline{.points = {a, b}, .stroke = stroke};
}

bool leads_somewhere(std::span<const Picture> pictures, std::size_t source) {
  return std::ranges::any_of(pictures, [&](const Picture& picture) {
    return std::ranges::any_of(picture.feeds, [&](const auto& feeds) {
      return std::ranges::any_of(feeds, [&](const Feed& feed) {
        return !feed.sources.empty() && feed.sources.front() == source;
      });
    });
  });
}

std::vector<Entry> source_entries(const PictureMarks& of) {
  const PictureSet& set = of.set;
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < set.sources.size(); ++i) {
    const site::Element& element = of.site.elements[set.sources[i]];
    const std::string mark = mark_of_source(set, set.sources[i]);
    const bool leads = leads_somewhere(of.pictures, set.sources[i]);
    Entry entry{.items = {}, .words = {}, .words_at = 18.0};
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
  entry.words = works ? "neutral joined to earth here, for what is alive"
                      : "joint not at work, or an earth terminal";
  return entry;
}

template <class Has>
bool any_picture(const PictureMarks& of, Has has) {
  return std::ranges::any_of(of.pictures, has);
}

/// Whether some picture draws a switch that stands so; changeovers show their positions as words.
bool has_switch(const PictureMarks& of, const std::string& position) {
  return any_picture(of, [&](const Picture& picture) {
    return std::ranges::any_of(picture.positions, [&](const auto& at) {
      const SwitchId& id = at.first;
      const bool drawn = id.second == "transfer" || std::ranges::count(of.set.switches, id) > 0;
      return drawn && at.second == position;
    });
  });
}

std::vector<Entry> mark_entries(const PictureMarks& of) {
  const PictureSet& set = of.set;
  std::vector<Entry> entries;
  entries.push_back({{sample(Stroke::dead)}, "dead"});
  const auto undecided = [](const Picture& picture) {
    return std::ranges::any_of(picture.feeds, [](const auto& feeds) {
      return std::ranges::any_of(feeds,
                                 [](const Feed& f) { return f.sources.empty() && f.undecided; });
    });
  };
  if (any_picture(of, undecided))
    entries.push_back({{sample(Stroke::undecided)}, "not known whether it is alive"});
  if (has_switch(of, "closed")) entries.push_back(switch_entry(true));
  if (has_switch(of, "open")) entries.push_back(switch_entry(false));
  entries.push_back(earth_entry(true));
  entries.push_back(earth_entry(false));
  if (set.faulty != none &&
      any_picture(of, [](const Picture& p) { return !p.fault_out.empty(); })) {
    entries.push_back(
        {{sample(Stroke::fault_out)}, "earth fault of " + set.faulty_name + ": out over the line"});
    entries.push_back({{sample(Stroke::fault_home)}, "home over protective conductor and bond"});
  }
  if (any_picture(of, [](const Picture& p) { return !p.emphasised.empty(); }))
    entries.push_back({{bit({1.6, 0.0}, {9.4, 0.0}, Stroke::halo)}, "the way of the hazard"});
  if (any_picture(of, [](const Picture& p) { return !p.moved.empty(); }))
    entries.push_back({{Box{.rect = {3.5, -1.7, 4.0, 3.4}, .stroke = Stroke::flag}},
                       "moved, started or stopped to bring it about"});
  return entries;
}

std::vector<Entry> board_entries(const PictureMarks& of) {
  std::vector<Entry> entries;
  for (const Frame& frame : of.layout.what.plan.frames) {
    if (frame.assembly == none) continue;
    const site::Assembly& assembly = of.site.assemblies[frame.assembly];
    if (assembly.name.empty()) continue;
    entries.push_back(
        {{Text{
             .at = {0.0, text_height / 2.0}, .text = assembly.designation, .weight = Weight::bold}},
         assembly.name,
         9.0});
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

/// A column of the legend with the room it still has.
struct Column {
  double x = 0.0;
  double width = 0.0;
  double y = 0.0;
  double bottom = 0.0;
};

std::vector<std::string> words_in(const Sketch& sketch, const Entry& entry, const Column& column) {
  return wrapped(sketch.metrics, entry.words, column.width - entry.words_at);
}

bool draw_entry(Sketch& sketch, Group& group, const Entry& entry, Column& column) {
  const auto lines = words_in(sketch, entry, column);
  const double height = legend_pitch + line_pitch * (static_cast<double>(lines.size()) - 1.0);
  if (column.y + height > column.bottom + legend_pitch / 2.0) return false;
  for (Item item : entry.items) {
    move(item, {column.x, column.y});
    group.items.push_back(std::move(item));
  }
  double baseline = column.y + text_height / 2.0;
  for (const std::string& line : lines) {
    sketch.text(group, {.at = {column.x + entry.words_at, baseline}, .text = line});
    baseline += line_pitch;
  }
  column.y += height;
  return true;
}

/// Each kind of entries into its own column, then what is left into any that has room. Returns
/// what found none.
std::vector<Entry> draw_entries(Sketch& sketch, Group& group,
                                const std::vector<std::vector<Entry>>& kinds,
                                std::vector<Column>& columns) {
  std::vector<Entry> left;
  for (std::size_t k = 0; k < kinds.size(); ++k)
    for (const Entry& entry : kinds[k]) {
      Column& own = columns[k % columns.size()];
      if (draw_entry(sketch, group, entry, own)) continue;
      own.bottom = own.y;
      left.push_back(entry);
    }
  std::vector<Entry> nowhere;
  for (const Entry& entry : left) {
    const bool drawn = std::ranges::any_of(
        columns, [&](Column& column) { return draw_entry(sketch, group, entry, column); });
    if (!drawn) nowhere.push_back(entry);
  }
  return nowhere;
}

std::vector<std::vector<Entry>> entries_of(const PictureMarks& marks) {
  return {source_entries(marks), mark_entries(marks), board_entries(marks)};
}

/// The heading and the rule below it.
Group& legend_group(Sketch& sketch, Point at, double width) {
  Group& group = sketch.group("legend", "", "Marks", "");
  sketch.text(group, {.at = {at.x, at.y + heading_height},
                      .text = "Marks",
                      .height = heading_height,
                      .weight = Weight::bold});
  sketch.line(group, {{at.x, at.y + 5.0}, {at.x + width, at.y + 5.0}}, Stroke::rule);
  return group;
}

// Three columns beside the title block, fewer where the paper is narrow.
std::vector<Column> columns_beside(const Rect& place, double end) {
  const double first = place.y + 8.5;
  const double left = place.x;
  if (place.width < 190.0) {
    const double width = std::min(place.width, 90.0);
    return {{left, width, first, end}};
  }
  return {{left, 66.0, first, end},
          {left + 68.0, 78.0, first, end},
          {left + 148.0, place.width - 148.0, first, end}};
}

void point_to_last_sheet(Sketch& sketch, Group& group, Point at) {
  sketch.text(group,
              {.at = at, .text = "All marks stand on the last sheet.", .weight = Weight::bold});
}

}  // namespace

bool has_legend_beside(const site::Site& site) {
  return paper_of(site).has_beside_title(least_legend);
}

Legend draw_legend(const PictureMarks& marks, Sketch& sketch) {
  const Paper paper = paper_of(marks.site);
  const double bottom = paper.bottom() - 3.0;
  const double left = paper.frame.x + 4.0;
  if (!has_legend_beside(marks.site)) {
    point_to_last_sheet(sketch, sketch.group("legend", "", "Marks", ""),
                        {left, title_top(marks.site, paper) - 2.0});
    return Legend::cut;
  }
  const Rect place{left, title_top(marks.site, paper), paper.title_left() - left - 4.0, 0.0};
  const auto kinds = entries_of(marks);
  Sheet trial = sheet_of(paper_of(marks.site), "", "");
  Sketch on_trial{.metrics = sketch.metrics, .sheet = trial, .taken = {}, .symbols = {}};
  auto columns = columns_beside(place, bottom);
  const bool whole =
      draw_entries(on_trial, on_trial.group("legend", "", "", ""), kinds, columns).empty();
  Group& group = legend_group(sketch, {left, place.y}, place.width);
  columns = columns_beside(place, whole ? bottom : bottom - 2.0 * legend_pitch);
  draw_entries(sketch, group, kinds, columns);
  if (whole) return Legend::whole;
  point_to_last_sheet(sketch, group, {left, bottom});
  return Legend::cut;
}

std::vector<Sheet> legend_sheets(const PictureMarks& marks, const Metrics& metrics) {
  const Paper paper = paper_of(marks.site);
  const Rect& frame = paper.frame;
  const auto count = static_cast<std::size_t>(frame.width / 85.0);
  const double width = (frame.width - 8.0) / static_cast<double>(count);
  std::vector<Sheet> sheets;
  std::vector<Entry> left;
  for (std::vector<Entry>& kind : entries_of(marks))
    std::ranges::move(kind, std::back_inserter(left));
  while (!left.empty()) {
    const std::size_t number = sheets.size() + 1;
    Sheet sheet =
        sheet_of(paper_of(marks.site), number == 1 ? "marks" : fmt::format("marks-{}", number),
                 number == 1 ? "Marks" : fmt::format("Marks, sheet {}", number));
    Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = {}, .symbols = {}};
    draw_frame(sketch);
    Group& group = legend_group(sketch, {frame.x + 4.0, frame.y + 4.0}, frame.width - 8.0);
    std::vector<Column> columns;
    for (std::size_t c = 0; c < count; ++c)
      columns.push_back({frame.x + 4.0 + width * static_cast<double>(c), width - 4.0,
                         frame.y + 13.0, title_top(marks.site, paper) - 4.0});
    const std::size_t before = left.size();
    left = draw_entries(sketch, group, {std::move(left)}, columns);
    sheets.push_back(std::move(sheet));
    if (left.size() == before) break;
  }
  return sheets;
}

}  // namespace linewright::diagram
