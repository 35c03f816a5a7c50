#include "diagram/paper.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include <fmt/core.h>

namespace linewright::diagram {
namespace {

constexpr std::string_view row_letters = "ABCDEFGHJKLMNPQR";  // I and O are never used
constexpr double zone_pitch = 50.0;
constexpr double zone_strip = 5.0;
constexpr double filing_margin = 20.0;
constexpr double margin = 10.0;
constexpr std::size_t most_revisions = 6;
constexpr const char* caution =
    "Advisory. Check against local codes; work only by licensed people; prove dead before "
    "touching.";

/// A trimmed size of ISO 216 with its zones of ISO 5457, lying.
struct Size {
  const char* name;
  double width;
  double height;
  std::size_t columns;
  std::size_t rows;
};

constexpr std::array<Size, 5> sizes{{{"A4", 297.0, 210.0, 6, 4},
                                     {"A3", 420.0, 297.0, 8, 6},
                                     {"A2", 594.0, 420.0, 12, 8},
                                     {"A1", 841.0, 594.0, 16, 12},
                                     {"A0", 1189.0, 841.0, 24, 16}}};

// Edges of the zones: 50 mm from the middle of the sheet outwards, the rest to the corner zones.
double edge(double middle, std::size_t index, std::size_t count, double low, double high) {
  if (index == 0) return low;
  if (index == count) return high;
  return middle + zone_pitch * (static_cast<double>(index) - static_cast<double>(count) / 2.0);
}

double column_edge(const Paper& paper, std::size_t index) {
  return edge(paper.width / 2.0, index, paper.columns, paper.frame.x, paper.right());
}

double row_edge(const Paper& paper, std::size_t index) {
  return edge(paper.height / 2.0, index, paper.rows, paper.frame.y, paper.bottom());
}

void bare_line(Group& group, Point a, Point b, Stroke stroke) {
  group.items.emplace_back(Polyline{{a, b}, stroke});
}

void zone_letter(Group& group, Point middle, std::string words) {
  group.items.emplace_back(Text{.at = {middle.x, middle.y + heading_height / 2.0},
                                .text = std::move(words),
                                .height = heading_height,
                                .anchor = Anchor::middle});
}

// A4 has its marks at the top and at the right only, larger paper on all sides (from memory; the
// page on drawing conventions tells of a source that says left).
bool marks_on_all_sides(const Paper& paper) {
  return !paper.is_small();
}

void draw_columns(const Paper& paper, double inner, double outer, Group& group) {
  for (std::size_t i = 0; i < paper.columns; ++i) {
    const double middle = (column_edge(paper, i) + column_edge(paper, i + 1)) / 2.0;
    zone_letter(group, {middle, (inner + outer) / 2.0}, fmt::format("{}", i + 1));
    const double x = column_edge(paper, i);
    if (i > 0) bare_line(group, {x, outer}, {x, inner}, Stroke::zone);
  }
}

void draw_rows(const Paper& paper, double inner, double outer, Group& group) {
  for (std::size_t i = 0; i < paper.rows; ++i) {
    const double middle = (row_edge(paper, i) + row_edge(paper, i + 1)) / 2.0;
    zone_letter(group, {(inner + outer) / 2.0, middle}, std::string(1, row_letters[i]));
    const double y = row_edge(paper, i);
    if (i > 0) bare_line(group, {outer, y}, {inner, y}, Stroke::zone);
  }
}

void draw_zones(const Paper& paper, Group& group) {
  const Rect& frame = paper.frame;
  draw_columns(paper, frame.y, frame.y - zone_strip, group);
  draw_rows(paper, paper.right(), paper.right() + zone_strip, group);
  if (!marks_on_all_sides(paper)) return;
  draw_columns(paper, paper.bottom(), paper.bottom() + zone_strip, group);
  draw_rows(paper, frame.x, frame.x - zone_strip, group);
}

/// A field of the title block: its small label and what stands in it.
struct Field {
  Rect box;
  std::string label;
  std::string value;
  double height = text_height;
  Weight weight = Weight::regular;
  std::string second;  ///< a further line
};

// The words of a field, lowered step by step until they fit, and cut at last.
Text fitted(const Sketch& sketch, const Field& field, double baseline) {
  Text text{.at = {field.box.x + 1.5, baseline},
            .text = field.value,
            .height = field.height,
            .weight = field.weight};
  const double room = field.box.width - 2.5;
  for (const double height : {5.0, 3.5, 2.5}) {
    if (height > field.height) continue;
    text.height = height;
    if (sketch.metrics.text_width(text.text, height, text.weight) <= room) return text;
  }
  while (text.text.size() > 1 &&
         sketch.metrics.text_width(text.text + "…", text.height, text.weight) > room) {
    do
      text.text.pop_back();
    while (!text.text.empty() && (static_cast<unsigned char>(text.text.back()) & 0xC0U) == 0x80U);
  }
  text.text += "…";
  return text;
}

void draw_field(Sketch& sketch, Group& group, const Field& field) {
  group.items.emplace_back(Box{.rect = field.box, .stroke = Stroke::rule});
  sketch.text(group, {.at = {field.box.x + 1.5, field.box.y + 2.75},
                      .text = field.label,
                      .height = 1.8,
                      .ink = Ink::grey});
  const double bottom = field.box.y + field.box.height;
  Field first = field;
  const double rise = field.second.empty() ? 1.75 : field.height > text_height ? 6.0 : 5.0;
  if (!field.value.empty()) sketch.text(group, fitted(sketch, first, bottom - rise));
  if (field.second.empty()) return;
  first.value = field.second;
  first.height = text_height;
  first.weight = Weight::regular;
  sketch.text(group, fitted(sketch, first, bottom - 1.5));
}

// Both parts with a comma between, or the first alone where there is no room for both.
std::string with_comma(const Sketch& sketch, const std::string& a, const std::string& b,
                       double room) {
  if (a.empty() || b.empty()) return a + b;
  const std::string both = a + ", " + b;
  const bool fits = sketch.metrics.text_width(both, text_height, Weight::regular) <= room;
  return fits ? both : a;
}

// Who installs it where the owner of the drawing does not say that already.
std::string installer_words(const site::Site& site) {
  const site::Permit& permit = site.permit;
  if (permit.installer != site.title.owner) return permit.installer;
  return permit.installer_registration.empty() ? ""
                                               : "registered as " + permit.installer_registration;
}

std::string with_customer(const SheetFacts& facts, const site::Permit& permit) {
  std::string words = facts.supplement;
  const auto add = [&](const char* between, const std::string& more) {
    if (!more.empty()) words += (words.empty() ? "" : between) + more;
  };
  add(" – ", facts.remark);
  add(" · ", permit.customer.empty() ? "" : "customer: " + permit.customer);
  return words;
}

std::size_t shown_revisions(const site::Site& site) {
  return std::min(site.title.revisions.size(), most_revisions);
}

// Newest at the bottom, next to the block; of many the newest.
void draw_revisions(const site::Site& site, Sketch& sketch, Group& group) {
  const Paper paper = paper_of(sketch.sheet);
  const double left = paper.title_left();
  constexpr std::array<double, 6> edges{0.0, 15.0, 45.0, 120.0, 150.0, 180.0};
  constexpr std::array<const char*, 5> heads{"Rev", "Date", "Change", "By", "Approved"};
  const std::size_t count = shown_revisions(site);
  double y = title_top(site, paper);
  const auto row = [&](const std::array<std::string, 5>& words, double height, Ink ink) {
    for (std::size_t i = 0; i < words.size(); ++i) {
      const Rect box{left + edges[i], y, edges[i + 1] - edges[i], Paper::revision_row};
      group.items.emplace_back(Box{.rect = box, .stroke = Stroke::rule});
      Text text = fitted(sketch, {.box = box, .value = words[i], .height = text_height}, y + 3.75);
      text.height = height;
      text.ink = ink;
      sketch.text(group, text);
    }
    y += Paper::revision_row;
  };
  row({heads[0], heads[1], heads[2], heads[3], heads[4]}, 1.8, Ink::grey);
  for (std::size_t i = site.title.revisions.size() - count; i < site.title.revisions.size(); ++i) {
    const auto& revision = site.title.revisions[i];
    row({revision.index, revision.date, revision.change, revision.by, revision.approved},
        text_height, Ink::black);
  }
}

void draw_title_block(const site::Site& site, const SheetFacts& facts, Sketch& sketch) {
  Group& group = sketch.group("title-block", "", "Title block", site.title.drawing_number);
  const Paper paper = paper_of(sketch.sheet);
  const double left = paper.title_left();
  const double top = paper.bottom() - Paper::title_height;
  const site::Title& title = site.title;
  const site::Permit& permit = site.permit;
  const std::string revision = title.revisions.empty() ? "" : title.revisions.back().index;
  const std::array<Field, 12> fields{{
      {{left, top, 60, 13},
       "Legal owner",
       title.owner,
       text_height,
       Weight::regular,
       installer_words(site)},
      {{left + 60, top, 60, 13},
       "Site",
       title.site_name,
       text_height,
       Weight::regular,
       with_comma(sketch, title.site_address, permit.property, 57.0)},
      {{left + 120, top, 60, 13}, "Rules", facts.rules},
      {{left, top + 13, 120, 16},
       "Title",
       facts.title,
       5.0,
       Weight::bold,
       with_customer(facts, permit)},
      {{left + 120, top + 13, 60, 16}, "Drawing number", title.drawing_number, 5.0, Weight::bold},
      {{left, top + 29, 40, 10.5},
       "Created by",
       with_comma(sketch, title.creator, permit.designer_licence, 37.0)},
      {{left + 40, top + 29, 40, 10.5}, "Approved by", title.approver},
      {{left + 80, top + 29, 40, 10.5}, "Document type", facts.document_type},
      {{left + 120, top + 29, 20, 10.5}, "Revision", revision, heading_height, Weight::bold},
      {{left + 140, top + 29, 40, 10.5}, "Status", title.status},
      {{left, top + 39.5, 40, 10.5}, "Date of issue", title.date},
      {{left + 120, top + 39.5, 60, 10.5},
       "Sheet",
       fmt::format("{} of {}", facts.number, facts.count)},
  }};
  for (const Field& field : fields)
    draw_field(sketch, group, field);
  draw_field(sketch, group,
             {{left + 40, top + 39.5, 80, 10.5},
              "Language, paper, scale",
              fmt::format("{} · {} · not to scale", title.language, paper.name.substr(0, 2))});
  const Rect row{left, top - Paper::caution_height, Paper::title_width, Paper::caution_height};
  group.items.emplace_back(Box{.rect = row, .stroke = Stroke::rule});
  sketch.text(group, {.at = {left + Paper::title_width / 2.0, top - 1.5},
                      .text = caution,
                      .weight = Weight::bold,
                      .anchor = Anchor::middle});
  draw_revisions(site, sketch, group);
  group.items.emplace_back(
      Box{.rect = {left, top, Paper::title_width, Paper::title_height}, .stroke = Stroke::frame});
}

Paper paper_in(const Size& size, bool upright) {
  Paper paper{.name = fmt::format("{} {}", size.name, upright ? "portrait" : "landscape"),
              .width = size.width,
              .height = size.height,
              .columns = size.columns,
              .rows = size.rows};
  if (upright) {
    std::swap(paper.width, paper.height);
    std::swap(paper.columns, paper.rows);
  }
  paper.frame = frame_of({.name = {}, .title = {}, .width = paper.width, .height = paper.height});
  return paper;
}

// The smallest size that is as long as that.
std::size_t size_of(double length) {
  constexpr double slack = 1.0;
  std::size_t size = 0;
  while (size + 1 < sizes.size() && sizes[size].width < length - slack)
    ++size;
  return size;
}

}  // namespace

Paper paper_of(const site::PaperFormat& format) {
  return paper_in(sizes[format.size == site::PaperSize::a4 ? 0 : 1],
                  format.turn == site::PaperTurn::portrait);
}

Rect frame_of(const Sheet& sheet) {
  return {filing_margin, margin, sheet.width - filing_margin - margin, sheet.height - 2.0 * margin};
}

Paper paper_of(const site::Site& site) {
  return paper_of(site.title.paper);
}

Paper paper_of(const Sheet& sheet) {
  return paper_in(sizes[size_of(std::max(sheet.width, sheet.height))], sheet.height > sheet.width);
}

std::optional<Paper> larger_than(const Paper& paper) {
  const std::size_t next = size_of(std::max(paper.width, paper.height)) + 1;
  if (next == sizes.size()) return std::nullopt;
  return paper_in(sizes[next], false);
}

Sheet sheet_of(const Paper& paper, std::string name, std::string title) {
  return {.name = std::move(name),
          .title = std::move(title),
          .width = paper.width,
          .height = paper.height};
}

double title_top(const site::Site& site, const Paper& paper) {
  const double rows = static_cast<double>(shown_revisions(site) + 1);
  return paper.bottom() - Paper::title_height - Paper::caution_height - rows * Paper::revision_row;
}

std::string zone_of(const Paper& paper, Point at) {
  std::size_t column = 0;
  std::size_t row = 0;
  while (column + 1 < paper.columns && at.x >= column_edge(paper, column + 1))
    ++column;
  while (row + 1 < paper.rows && at.y >= row_edge(paper, row + 1))
    ++row;
  return fmt::format("{}{}", row_letters[row], column + 1);
}

void draw_frame(Sketch& sketch) {
  const Paper paper = paper_of(sketch.sheet);
  Group& group = sketch.group("frame", "", "", "");
  const Rect& frame = paper.frame;
  group.items.emplace_back(
      Box{.rect = {frame.x - zone_strip, frame.y - zone_strip, frame.width + 2.0 * zone_strip,
                   frame.height + 2.0 * zone_strip},
          .stroke = Stroke::zone});
  group.items.emplace_back(Box{.rect = frame, .stroke = Stroke::frame});
  draw_zones(paper, group);
  for (const double x : {frame.x - zone_strip, paper.right()})
    bare_line(group, {x, paper.height / 2.0}, {x + zone_strip, paper.height / 2.0}, Stroke::frame);
  for (const double y : {frame.y - zone_strip, paper.bottom()})
    bare_line(group, {paper.width / 2.0, y}, {paper.width / 2.0, y + zone_strip}, Stroke::frame);
}

void add_title_block(const site::Site& site, const SheetFacts& facts, const Metrics& metrics,
                     Sheet& sheet) {
  Sheet block = sheet_of(paper_of(sheet), "", "");
  Sketch sketch{.metrics = metrics, .sheet = block, .taken = {}, .symbols = {}};
  draw_title_block(site, facts, sketch);
  const auto frame = std::ranges::find(sheet.groups, "frame", &Group::kind);
  const auto after = frame == sheet.groups.end() ? sheet.groups.begin() : std::next(frame);
  sheet.groups.insert(after, std::make_move_iterator(block.groups.begin()),
                      std::make_move_iterator(block.groups.end()));
}

}  // namespace linewright::diagram
