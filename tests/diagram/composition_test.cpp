// What a sheet composes as a draughtsman would: like groups alike, bars over what hangs from them.
#include <algorithm>
#include <map>
#include <set>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/made_sites.hpp"
#include "diagram/overview.hpp"
#include "drawing/metrics.hpp"
#include "drawing/tools.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;

namespace {

diagram::Document drawn(const std::string& yaml) {
  return diagram::overview(site_from(yaml), drawing::metrics(), {});
}

std::string sample(const std::string& name) {
  return read_file(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name));
}

/// Where the group's symbols stand, by symbol, measured from the first of them.
std::map<std::string, diagram::Point> symbols_of(const diagram::Document& document,
                                                 const std::string& id) {
  std::map<std::string, diagram::Point> places;
  for (const diagram::Sheet& sheet : document.sheets)
    for (const diagram::Group& group : sheet.groups) {
      if (group.kind != "element" || group.id != id) continue;
      for (const diagram::Item& item : group.items)
        if (const auto* symbol = std::get_if<diagram::SymbolUse>(&item))
          places.emplace(symbol->symbol, symbol->at);
    }
  return places;
}

diagram::Point place_of(const diagram::Document& document, const std::string& id) {
  const auto places = symbols_of(document, id);
  REQUIRE_FALSE(places.empty());
  return places.begin()->second;
}

struct Span {
  double left = 1e9;
  double right = -1e9;

  void cover(double x) {
    left = std::min(left, x);
    right = std::max(right, x);
  }
};

/// Level bars of a sheet with the ends of wires that lie on them.
std::vector<std::pair<Span, Span>> bars_and_taps(const diagram::Sheet& sheet) {
  std::vector<std::pair<Span, Span>> result;
  const auto each_line = [&](diagram::Stroke stroke, const auto& visit) {
    for (const diagram::Group& group : sheet.groups)
      for (const diagram::Item& item : group.items)
        if (const auto* line = std::get_if<diagram::Polyline>(&item))
          if (line->stroke == stroke) visit(*line);
  };
  each_line(diagram::Stroke::busbar, [&](const diagram::Polyline& bar) {
    Span span;
    for (const diagram::Point& point : bar.points)
      span.cover(point.x);
    const double y = bar.points.front().y;
    Span taps;
    for (const diagram::Group& group : sheet.groups)
      for (const diagram::Item& item : group.items)
        if (const auto* dot = std::get_if<diagram::Dot>(&item))
          if (std::abs(dot->at.y - y) < 0.01 && dot->at.x >= span.left - 0.01 &&
              dot->at.x <= span.right + 0.01)
            taps.cover(dot->at.x);
    CHECK(std::all_of(bar.points.begin(), bar.points.end(),
                      [&](const diagram::Point& point) { return std::abs(point.y - y) < 1e-6; }));
    result.emplace_back(span, taps);
  });
  return result;
}

}  // namespace

TEST_CASE("composition: two like inverters look alike") {
  const diagram::Document document = drawn(sample("tarn-house"));
  const diagram::Point one = place_of(document, "-T1");
  const diagram::Point other = place_of(document, "-T2");
  CHECK(one.y == Approx(other.y));
  const std::vector<std::pair<std::string, std::string>> pairs{
      {"-E1", "-E2"}, {"-B1", "-B2"}, {"-Q21", "-Q22"}, {"-F31", "-F32"}};
  for (const auto& [first, second] : pairs) {
    CAPTURE(first, second);
    const diagram::Point a = place_of(document, first);
    const diagram::Point b = place_of(document, second);
    CHECK(a.x - one.x == Approx(b.x - other.x));
    CHECK(a.y - one.y == Approx(b.y - other.y));
  }
}

TEST_CASE("composition: a busbar is one level line, just as long as what hangs from it asks") {
  constexpr double end = 2.5;  // beyond the outermost joints
  const auto check = [&](const diagram::Document& document) {
    int seen = 0;
    for (const diagram::Sheet& sheet : document.sheets) {
      if (sheet.name.starts_with("earthing")) continue;  // its bars are no busbars of the site
      for (const auto& [bar, taps] : bars_and_taps(sheet)) {
        CAPTURE(sheet.name, bar.left, bar.right);
        REQUIRE(taps.left <= taps.right);
        CHECK(taps.left - bar.left <= end + 0.01);
        CHECK(bar.right - taps.right <= end + 0.01);
        ++seen;
      }
    }
    return seen;
  };
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"})
    CHECK(check(drawn(sample(name))) > 0);
  for (unsigned seed = 1; seed <= 10; ++seed)
    CHECK(check(drawn(made_site(seed))) > 0);
}
