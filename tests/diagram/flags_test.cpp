// Findings as balloons on the sheets, and their table.
#include "diagram/flags.hpp"

#include <cmath>
#include <set>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/overview.hpp"
#include "diagram/sketch.hpp"
#include "drawing/metrics.hpp"
#include "linewright.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;
using diagram::Document;
using diagram::Flag;
using diagram::Group;
using diagram::Rect;
using diagram::Sheet;

namespace {

const diagram::Metrics& metrics() {
  static const diagram::Metrics known = drawing::metrics();
  return known;
}

/// A site with its clean drawing and the same with flags.
struct Flagged {
  site::Site site;
  Document clean;
  Document flags;
};

Flagged flagged(const std::string& yaml, const std::vector<Flag>& flags) {
  site::Site site = site_from(yaml);
  Document clean = diagram::overview(site, metrics(), {.rules = "IEC 60364"});
  Document with = diagram::flag_sheets(site, metrics(), clean, flags, "IEC 60364", "Remark");
  return {std::move(site), std::move(clean), std::move(with)};
}

std::string house() {
  return text_of(source_folder() + "/samples/tarn-house/tarn-house.yaml");
}

Flag flag_at(const std::string& element) {
  return {.severity = "danger",
          .element = element,
          .state = "grid, island",
          .finding = "'" + element + "' does what it must not",
          .rule = "family/what-must-never-be",
          .mend = "make it do what it must"};
}

std::vector<Rect> balloons_on(const Sheet& sheet) {
  std::vector<Rect> rects;
  for (const Group& group : sheet.groups)
    if (group.kind == "flag") rects.push_back(std::get<diagram::Box>(group.items.front()).rect);
  return rects;
}

std::vector<Rect> words_on(const Sheet& sheet) {
  std::vector<Rect> rects;
  for (const Group& group : sheet.groups) {
    if (group.kind == "flag") continue;
    for (const diagram::Item& item : group.items)
      if (const auto* text = std::get_if<diagram::Text>(&item))
        rects.push_back(diagram::ink_of(metrics(), *text));
  }
  return rects;
}

/// Balloons over words or over each other.
std::vector<std::string> covered(const Document& document) {
  std::vector<std::string> faults;
  for (const Sheet& sheet : document.sheets) {
    const std::vector<Rect> balloons = balloons_on(sheet);
    const std::vector<Rect> words = words_on(sheet);
    for (std::size_t i = 0; i < balloons.size(); ++i) {
      for (const Rect& word : words)
        if (overlap(balloons[i], word)) faults.push_back(sheet.name + ": a balloon over words");
      for (std::size_t j = i + 1; j < balloons.size(); ++j)
        if (overlap(balloons[i], balloons[j]))
          faults.push_back(sheet.name + ": a balloon over another");
    }
  }
  return faults;
}

std::multiset<std::string> ids_of(const Document& document, const std::string& kind) {
  std::multiset<std::string> ids;
  for (const Sheet& sheet : document.sheets)
    for (const Group& group : sheet.groups)
      if (group.kind == kind) ids.insert(group.id);
  return ids;
}

std::string text_of_group(const Document& document, const std::string& id) {
  std::string text;
  for (const Sheet& sheet : document.sheets)
    for (const Group& group : sheet.groups)
      if (group.id == id)
        for (const diagram::Item& item : group.items)
          if (const auto* words = std::get_if<diagram::Text>(&item)) text += words->text + " ";
  return text;
}

}  // namespace

TEST_CASE("flags: every drawn element of every sample takes a balloon that covers no words") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const std::string yaml =
      text_of(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name));
  const site::Site site = site_from(yaml);
  const Document clean = diagram::overview(site, metrics(), {.rules = "IEC 60364"});
  // One at a time would be too easy; all together there is no room. Every seventh shares a sheet.
  for (std::size_t first = 0; first < 7; ++first) {
    std::vector<Flag> flags;
    for (std::size_t e = first; e < site.elements.size(); e += 7)
      flags.push_back(flag_at(site.elements[e].designation));
    const Document result = diagram::flag_sheets(site, metrics(), clean, flags, "IEC 60364", "");
    CAPTURE(name, first);
    CHECK(covered(result) == std::vector<std::string>{});
    CHECK(ids_of(result, "flag").size() == flags.size());
  }
}

TEST_CASE("flags: the table holds every finding once, at a dash what is nowhere drawn") {
  const std::vector<Flag> flags{flag_at("-Q1"), flag_at(""), flag_at("-Q1"), flag_at("-Z99"),
                                flag_at("+A4")};
  const Flagged result = flagged(house(), flags);
  CHECK(ids_of(result.flags, "finding") == std::multiset<std::string>{"finding 1", "finding 2",
                                                                      "finding 3", "finding 4",
                                                                      "finding 5"});
  // The first and the third share an element, the second has none, the fourth is not drawn.
  CHECK(ids_of(result.flags, "flag") == std::multiset<std::string>{"flag 1", "flag 3", "flag 5"});
  CHECK(ids_of(result.flags, "leader").size() == 2);
  CHECK(text_of_group(result.flags, "finding 2").find("–") != std::string::npos);
  const std::string first = text_of_group(result.flags, "finding 1");
  for (const char* word : {"danger", "-Q1", "grid, island", "what-must-never-be", "make it do"})
    CHECK(first.find(word) != std::string::npos);
}

TEST_CASE("flags: findings at one element stand side by side on one leader") {
  const std::vector<Flag> flags(7, flag_at("-T1"));
  const Flagged result = flagged(house(), flags);
  CHECK(ids_of(result.flags, "flag").size() == 7);
  CHECK(ids_of(result.flags, "leader").size() == 1);
  CHECK(covered(result.flags) == std::vector<std::string>{});
}

TEST_CASE("flags: a leader ends at its element") {
  const Flagged result = flagged(house(), {flag_at("-Q10"), flag_at("-F9"), flag_at("-B2")});
  const Sheet& sheet = result.flags.sheets.front();
  int seen = 0;
  for (const Group& leader : sheet.groups) {
    if (leader.kind != "leader") continue;
    ++seen;
    const auto& line = std::get<diagram::Polyline>(leader.items.front());
    for (const Group& group : sheet.groups) {
      if (group.kind != "element" || group.id != leader.data.at("element")) continue;
      for (const diagram::Item& item : group.items) {
        const auto* use = std::get_if<diagram::SymbolUse>(&item);
        if (use == nullptr) continue;
        const Rect bounds = metrics().symbols.at(use->symbol).bounds;
        const diagram::Point end = line.points.back();
        CHECK(end.x >= use->at.x + bounds.x - 1e-6);
        CHECK(end.x <= use->at.x + bounds.x + bounds.width + 1e-6);
        CHECK(end.y >= use->at.y + bounds.y - 1e-6);
        CHECK(end.y <= use->at.y + bounds.y + bounds.height + 1e-6);
      }
    }
  }
  CHECK(seen == 3);
}

TEST_CASE("flags: the drawing itself stays as it is") {
  const Flagged result = flagged(house(), {flag_at("-Q1")});
  CHECK(ids_of(result.clean, "flag").empty());
  for (std::size_t s = 0; s < result.clean.sheets.size(); ++s) {
    std::size_t kept = 0;
    for (const Group& group : result.flags.sheets[s].groups)
      kept += group.kind != "flag" && group.kind != "leader" ? 1U : 0U;
    CHECK(kept == result.clean.sheets[s].groups.size());
  }
}

TEST_CASE("flags: a long table goes on over sheets, none of its words outside them") {
  std::vector<Flag> flags;
  for (int i = 0; i < 120; ++i)
    flags.push_back(flag_at(i % 2 == 0 ? "-Q1" : ""));
  const Flagged result = flagged(house(), flags);
  CHECK(ids_of(result.flags, "finding").size() == 120);
  std::size_t tables = 0;
  for (const Sheet& sheet : result.flags.sheets) {
    if (!sheet.name.starts_with("findings")) continue;
    ++tables;
    for (const Rect& word : words_on(sheet)) {
      CHECK(word.x + word.width <= sheet.width);
      CHECK(word.y + word.height <= sheet.height);
    }
  }
  CHECK(tables >= 2);
}

TEST_CASE("flags: the sheets of each faulty sample carry its findings") {
  const std::string folder = source_folder() + "/samples/faulty";
  for (const std::string& path : site_files(folder, Depth::one_folder)) {
    INFO(path);
    const Checked checked = check_site(text_of(path), path);
    const Result<Drawn> drawn = flags_of_site(*checked.site, checked.report, {});
    REQUIRE(drawn);
    std::size_t rows = 0;
    std::size_t balloons = 0;
    for (const DrawnSheet& sheet : drawn->sheets)
      for (std::size_t i = 0; i < checked.report.findings.size(); ++i) {
        const auto has = [&](const char* kind) {
          return sheet.svg.find(fmt::format("data-id=\"{} {}\"", kind, i + 1)) != std::string::npos;
        };
        rows += has("finding") ? 1U : 0U;
        balloons += has("flag") ? 1U : 0U;
      }
    CHECK(rows == checked.report.findings.size());
    CHECK(balloons == rows);
  }
}
