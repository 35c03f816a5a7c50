// The places where hand-written readers of SVG paths usually go wrong.
#include "drawing/path_data.hpp"

#include <catch2/catch.hpp>

namespace {

using namespace linewright;
using namespace linewright::drawing;
using Kind = Segment::Kind;

Path read(std::string_view text) {
  const Result<Path> path = parse_path_data(text);
  INFO(text);
  if (!path) FAIL(path.error().message);
  return *path;
}

void same_point(Point found, Point wanted) {
  CHECK(found.x == Approx(wanted.x).margin(1e-9));
  CHECK(found.y == Approx(wanted.y).margin(1e-9));
}

}  // namespace

TEST_CASE("path data: numbers divide at a sign and at a second point") {
  CHECK(read("M.5.5-1-2") == Path{move_to({0.5, 0.5}), line_to({-1, -2})});
  CHECK(read("M+1e1-2E-1") == Path{move_to({10, -0.2})});
}

TEST_CASE("path data: pairs after M are lines, after m relative lines") {
  CHECK(read("M0 0 1 1 2,0") == Path{move_to({0, 0}), line_to({1, 1}), line_to({2, 0})});
  CHECK(read("m1 1 1 1") == Path{move_to({1, 1}), line_to({2, 2})});
}

TEST_CASE("path data: after Z the current point is the start of the part") {
  CHECK(read("M2 3h4v4zl1 1") ==
        Path{move_to({2, 3}), line_to({6, 3}), line_to({6, 7}), close_part(), line_to({3, 4})});
}

TEST_CASE("path data: H and V keep the other coordinate") {
  CHECK(read("M1 2H5V-1h-1v1") == Path{move_to({1, 2}), line_to({5, 2}), line_to({5, -1}),
                                       line_to({4, -1}), line_to({4, 0})});
}

TEST_CASE("path data: S mirrors the last control point, and only that of a cubic curve") {
  const Path path = read("M0 0C0 1 1 1 1 0S2-1 2 0");
  same_point(path[2].points[0], {1, -1});
  const Path alone = read("M3 3S4 4 5 5");
  same_point(alone[1].points[0], {3, 3});
}

TEST_CASE("path data: quadratic curves become cubic ones") {
  // Controls lie two thirds of the way from each end to the control point (1, 2).
  const Path path = read("M0 0Q1 2 2 0T4 0");
  same_point(path[1].points[0], {2.0 / 3.0, 4.0 / 3.0});
  same_point(path[1].points[1], {4.0 / 3.0, 4.0 / 3.0});
  // T mirrors (1, 2) at (2, 0) to (3, -2).
  same_point(path[2].points[0], {2.0 + 2.0 / 3.0, -4.0 / 3.0});
}

TEST_CASE("path data: arc flags may be glued to each other and to the next number") {
  const Path glued = read("M0 0a5 5 0 0110 0");
  const Path spaced = read("M0 0a5 5 0 0 1 10 0");
  CHECK(glued == spaced);
  same_point(glued.back().points[2], {10, 0});
  // Clockwise from left to right runs over the top: y goes to -5.
  CHECK(bounds(glued).y == Approx(-5.0).margin(0.002));
  CHECK(bounds(read("M0 0a5 5 0 0010 0")).height == Approx(5.0).margin(0.002));
  CHECK(bounds(read("M0 0a5 5 0 0010 0")).y == Approx(0.0).margin(0.002));
}

TEST_CASE("path data: the large arc is the long way round") {
  // Circle of radius 5 through (0, 0) and (5, 5): the long arc leaves the square of its ends.
  CHECK(bounds(read("M0 0A5 5 0 1 1 5 5")).width == Approx(10.0).margin(0.01));
  CHECK(bounds(read("M0 0A5 5 0 0 1 5 5")).width == Approx(5.0).margin(0.01));
}

TEST_CASE("path data: an arc with too small radii grows, without radius it is a line") {
  CHECK(bounds(read("M0 0A1 1 0 0 1 10 0")).height == Approx(5.0).margin(0.01));
  CHECK(read("M0 0A0 5 0 0 1 10 0") == Path{move_to({0, 0}), line_to({10, 0})});
  CHECK(read("M0 0A5 5 0 0 1 0 0") == Path{move_to({0, 0})});
}

TEST_CASE("path data: what is no path is refused with its column") {
  const auto [text, message] = GENERATE(table<std::string, std::string>({
      {"L0 0", "column 1: a path begins with M"},
      {"0 0", "column 1: a path begins with M"},
      {"M0", "column 3: expected a number"},
      {"M0 0L1", "column 7: expected a number"},
      {"M0 0X1 1", "column 5: 'X' is not a path command"},
      {"Mnan 0", "column 2: expected a number"},
      {"M0 inf", "column 4: expected a number"},
      {"M1e999 0", "column 2: number is out of range"},
      {"M1e7 0", "column 2: number is out of range"},
      {"M--1 0", "column 2: expected a number"},
      {"M0 0a5 5 0 2 1 10 0", "column 12: expected a flag, 0 or 1"},
  }));
  INFO(text);
  const Result<Path> path = parse_path_data(text);
  REQUIRE_FALSE(path);
  CHECK(path.error().message == message);
}
