#include "diagram/paper.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;
using diagram::Paper;
using diagram::Rect;

namespace {

site::Site site_on(const std::string& paper) {
  return site_from(fmt::format(
      "site: {{name: S, paper: {}}}\nsupply: {{system: 1/N/PE 230 V 50 Hz, earthing: TN-S}}\n",
      paper));
}

}  // namespace

TEST_CASE("paper: the frame leaves 20 mm for filing and 10 mm elsewhere") {
  struct Case {
    const char* written;
    double width, height;
    Rect frame;
  };
  // ISO 5457: 420 x 297 and 297 x 210 mm trimmed; 420 - 20 - 10 = 390, 297 - 2 * 10 = 277 …
  const auto one = GENERATE(values<Case>({
      {"A3", 420.0, 297.0, {20.0, 10.0, 390.0, 277.0}},
      {"A3 portrait", 297.0, 420.0, {20.0, 10.0, 267.0, 400.0}},
      {"A4", 210.0, 297.0, {20.0, 10.0, 180.0, 277.0}},
      {"A4 landscape", 297.0, 210.0, {20.0, 10.0, 267.0, 190.0}},
  }));
  CAPTURE(one.written);
  const Paper paper = diagram::paper_of(site_on(one.written));
  CHECK(paper.width == one.width);
  CHECK(paper.height == one.height);
  CHECK(paper.frame == one.frame);
}

TEST_CASE("paper: zones are 50 mm long, counted from the middle, the rest is the corners'") {
  const Paper a3 = diagram::paper_of(site_on("A3"));
  CHECK(diagram::zone_of(a3, {59.9, 48.4}) == "A1");
  CHECK(diagram::zone_of(a3, {60.1, 48.6}) == "B2");
  CHECK(diagram::zone_of(a3, {409.0, 286.0}) == "F8");
  const Paper upright = diagram::paper_of(site_on("A3 portrait"));
  CHECK(diagram::zone_of(upright, {286.0, 409.0}) == "H6");
  // The middle is at 105 mm: 55, 105, 155.
  const Paper a4 = diagram::paper_of(site_on("A4"));
  CHECK(diagram::zone_of(a4, {54.9, 20.0}) == "A1");
  CHECK(diagram::zone_of(a4, {155.1, 286.0}) == "F4");
  const Paper lying = diagram::paper_of(site_on("A4 landscape"));
  CHECK(diagram::zone_of(lying, {286.0, 199.0}) == "D6");
}

TEST_CASE("paper: the title block takes the whole width of A4 portrait") {
  CHECK(diagram::paper_of(site_on("A4")).title_left() == 20.0);
  CHECK_FALSE(diagram::paper_of(site_on("A4")).has_beside_title(1.0));
  CHECK(diagram::paper_of(site_on("A3")).has_beside_title(200.0));
}

TEST_CASE("paper: without a word it is A3 landscape, and an unknown one is a mistake") {
  CHECK(site_from("site: {name: S}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n")
            .title.paper == site::PaperFormat{});
  CHECK(mistakes_in("site: {name: S, paper: A2}\n").find("'A2'") != std::string::npos);
}
