// Revision clouds round what changed, and their table.
#include "diagram/change_sheets.hpp"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/overview.hpp"
#include "diagram/sketch.hpp"
#include "drawing/metrics.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;
using diagram::ChangeMark;
using diagram::Document;
using diagram::Group;
using diagram::Point;
using diagram::Rect;
using diagram::Sheet;

namespace {

const diagram::Metrics& metrics() {
  static const diagram::Metrics known = drawing::metrics();
  return known;
}

struct Marked {
  Document clean;
  Document changes;
};

Marked marked(const std::string& sample, const std::vector<ChangeMark>& marks) {
  const site::Site site =
      site_from(text_of(fmt::format("{0}/samples/{1}/{1}.yaml", source_folder(), sample)));
  Document clean = diagram::overview(site, metrics(), {});
  Document changes = diagram::change_sheets(site, metrics(), clean, marks, "IEC 60364", "Remark");
  return {std::move(clean), std::move(changes)};
}

bool is_added(const Group& group) {
  return group.kind == "cloud" || group.kind == "change";
}

/// The outlines of the clouds of a sheet.
std::vector<std::vector<Point>> clouds_on(const Sheet& sheet) {
  std::vector<std::vector<Point>> outlines;
  for (const Group& group : sheet.groups)
    if (group.kind == "cloud")
      outlines.push_back(std::get<diagram::Polyline>(group.items.front()).points);
  return outlines;
}

bool inside(const std::vector<Point>& outline, Point p) {
  bool odd = false;
  for (std::size_t i = 0, k = outline.size() - 1; i < outline.size(); k = i++) {
    const Point& a = outline[i];
    const Point& b = outline[k];
    if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
      odd = !odd;
  }
  return odd;
}

bool holds(const Rect& rect, Point p) {
  return p.x > rect.x && p.x < rect.x + rect.width && p.y > rect.y && p.y < rect.y + rect.height;
}

std::vector<Rect> lettering_on(const Sheet& sheet) {
  std::vector<Rect> rects;
  for (const Group& group : sheet.groups)
    for (const diagram::Item& item : group.items)
      if (const auto* text = std::get_if<diagram::Text>(&item))
        rects.push_back(diagram::ink_of(metrics(), *text));
  return rects;
}

/// Each element that is drawn with a symbol, as a change of its own.
std::vector<ChangeMark> marks_at_every(std::size_t step, const std::string& sample) {
  const Document clean = marked(sample, {}).clean;
  std::vector<ChangeMark> marks;
  std::set<std::string> seen;
  std::size_t count = 0;
  for (const Sheet& sheet : clean.sheets)
    for (const Group& group : sheet.groups)
      if (group.kind == "element" && !group.id.empty() && seen.insert(group.id).second &&
          count++ % step == 0)
        marks.push_back({{group.id}, group.id + ": rated current 16 A → 20 A"});
  return marks;
}

}  // namespace

TEST_CASE("changes: every changed element stands in a cloud that carries its number") {
  const std::string sample = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const std::vector<ChangeMark> marks = marks_at_every(9, sample);
  REQUIRE(marks.size() >= 3);
  const Marked result = marked(sample, marks);
  std::set<std::string> found;
  for (const Sheet& sheet : result.changes.sheets) {
    const auto clouds = clouds_on(sheet);
    for (const Group& group : sheet.groups) {
      if (group.kind != "element") continue;
      const bool wanted = std::ranges::any_of(
          marks, [&](const ChangeMark& mark) { return mark.drawn_as.front() == group.id; });
      if (!wanted) continue;
      INFO(sample << " " << group.id);
      for (const diagram::Item& item : group.items) {
        const auto* text = std::get_if<diagram::Text>(&item);
        if (text == nullptr) continue;
        const Rect ink = diagram::ink_of(metrics(), *text);
        const Point middle{ink.x + ink.width / 2.0, ink.y + ink.height / 2.0};
        CHECK(std::ranges::any_of(clouds, [&](const auto& one) { return inside(one, middle); }));
      }
      found.insert(group.id);
    }
  }
  CHECK(found.size() == marks.size());
  std::set<std::string> numbers;
  for (const Sheet& sheet : result.changes.sheets)
    for (const Group& group : sheet.groups)
      if (group.kind == "change") numbers.insert(group.id);
  CHECK(numbers.size() == marks.size());
}

TEST_CASE("changes: no cloud cuts words or another cloud, no number covers words") {
  const std::string sample = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const std::size_t step = GENERATE(3U, 11U);
  const Marked result = marked(sample, marks_at_every(step, sample));
  for (const Sheet& sheet : result.changes.sheets) {
    const auto clouds = clouds_on(sheet);
    const std::vector<Rect> lettering = lettering_on(sheet);
    for (std::size_t c = 0; c < clouds.size(); ++c) {
      for (const Point& point : clouds[c]) {
        INFO(sample << " " << sheet.name << " at " << point.x << ", " << point.y);
        CHECK(
            std::ranges::none_of(lettering, [&](const Rect& rect) { return holds(rect, point); }));
        for (std::size_t other = 0; other < clouds.size(); ++other)
          if (other != c) CHECK_FALSE(inside(clouds[other], point));
      }
    }
    for (const Group& group : sheet.groups) {
      if (group.kind != "change") continue;
      const auto& corners = std::get<diagram::Polyline>(group.items.front()).points;
      const Rect own = diagram::ink_of(metrics(), std::get<diagram::Text>(group.items.back()));
      const Rect mark{corners[0].x, corners[2].y, corners[1].x - corners[0].x,
                      corners[0].y - corners[2].y};
      INFO(sample << " " << sheet.name << " " << group.id);
      for (const Rect& rect : lettering)
        if (rect != own) CHECK_FALSE(diagram::overlap(mark, rect));
    }
  }
}

TEST_CASE("changes: the drawing under the clouds stays as it is") {
  const Marked result = marked("tarn-house", {{{"-Q1"}, "-Q1: rated current 40 A → 63 A"}});
  REQUIRE(result.changes.sheets.size() == 2);
  const Sheet& with = result.changes.sheets.front();
  const auto before = std::ranges::find(result.clean.sheets, with.name, &Sheet::name);
  REQUIRE(before != result.clean.sheets.end());
  std::vector<std::string> left;
  for (const Group& group : with.groups)
    if (!is_added(group) && group.kind != "title-block") left.push_back(group.kind + group.id);
  std::vector<std::string> were;
  for (const Group& group : before->groups)
    if (group.kind != "title-block") were.push_back(group.kind + group.id);
  CHECK(left == were);
}

TEST_CASE("changes: the table holds every change once, at a dash what is not drawn") {
  const Marked result = marked("tarn-house", {{{"-Q1"}, "one"}, {{}, "two"}, {{"-F41"}, "three"}});
  const Sheet& table = result.changes.sheets.back();
  std::vector<std::string> places;
  for (const Group& group : table.groups)
    if (group.kind == "change-row") places.push_back(group.description);
  REQUIRE(places.size() == 3);
  CHECK(places[0].starts_with("sheet 1, "));
  CHECK(places[1] == "–");
  CHECK(places[2].starts_with("sheet 1, "));
}

TEST_CASE("changes: of a change that is nowhere drawn the table alone is left") {
  const Marked result = marked("tarn-house", {{{}, "title block: name changed"}});
  REQUIRE(result.changes.sheets.size() == 1);
  CHECK(result.changes.sheets.front().name == "changes-1");
}
