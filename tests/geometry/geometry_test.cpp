// Drawn sheets, read back through a browser that knows nothing of how they were laid out.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "diagram/made_sites.hpp"
#include "geometry/browser.hpp"
#include "geometry/faults.hpp"
#include "geometry/nasty_sites.hpp"
#include "linewright.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"

namespace linewright::tests::geometry {
namespace {

std::string content_of(const std::string& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

void add_sheets(const std::string& yaml, const std::string& name, std::vector<Drawn>& to) {
  const Checked checked = check_site(yaml, name, {});
  if (!checked.site)
    for (const auto& mistake : checked.mistakes)
      UNSCOPED_INFO(mistake.message);
  INFO(name);
  REQUIRE(checked.site);
  const auto drawn = draw_site(checked, {.file_stem = "s", .states = StatePictures::drawn});
  REQUIRE(drawn);
  for (const DrawnSheet& sheet : drawn->sheets)
    to.push_back({name + " " + sheet.name, sheet.svg});
}

Faults faults_in(const std::vector<Drawn>& sheets) {
  const Measured measured = measure(sheets);
  CHECK(measured.failure == "");
  Faults faults;
  for (const Sheet& sheet : measured.sheets)
    for (std::string& fault : faults_of(sheet))
      faults.push_back(std::move(fault));
  return faults;
}

// What a sanitizer looks for shows in a few of them.
#if defined(__SANITIZE_ADDRESS__)
constexpr unsigned in_each_test = 4;
#else
constexpr unsigned in_each_test = 25;
#endif

// Every third one is a nasty one.
void add_site_by_chance(unsigned seed, std::vector<Drawn>& sheets) {
  const bool nasty = seed % 3 == 2;
  add_sheets(nasty ? nasty_site(seed / 3) : made_site(seed),
             (nasty ? "nasty " : "made ") + std::to_string(nasty ? seed / 3 : seed), sheets);
}

// Each fault by itself, so that a long list stays legible.
void report(const Faults& faults) {
  constexpr std::size_t most = 40;
  for (std::size_t i = 0; i < std::min(most, faults.size()); ++i)
    FAIL_CHECK(faults[i]);
  CHECK(faults.size() == 0);
}

void look_at_sites_by_chance(unsigned first, unsigned count) {
  std::vector<Drawn> sheets;
  for (unsigned seed = first; seed < first + count; ++seed)
    add_site_by_chance(seed, sheets);
  report(faults_in(sheets));
}

}  // namespace

TEST_CASE("geometry: a browser finds nothing to redraw on any sheet of the samples", "[geometry]") {
  std::vector<Drawn> sheets;
  for (const std::string& path : site_files(source_folder() + "/samples", Depth::with_folders))
    add_sheets(content_of(path), std::filesystem::path(path).stem().string(), sheets);
  report(faults_in(sheets));
}

TEST_CASE("geometry: a browser finds nothing to redraw on any sheet of the field cases",
          "[geometry]") {
  std::vector<Drawn> sheets;
  for (const std::string& path : site_files(source_folder() + "/tests/field", Depth::one_folder))
    add_sheets(content_of(path), std::filesystem::path(path).stem().string(), sheets);
  report(faults_in(sheets));
}

// Four tests, so that they run side by side.
TEST_CASE("geometry: a browser finds nothing to redraw on sites made by chance, first quarter",
          "[geometry]") {
  look_at_sites_by_chance(0, in_each_test);
}

TEST_CASE("geometry: a browser finds nothing to redraw on sites made by chance, second quarter",
          "[geometry]") {
  look_at_sites_by_chance(25, in_each_test);
}

TEST_CASE("geometry: a browser finds nothing to redraw on sites made by chance, third quarter",
          "[geometry]") {
  look_at_sites_by_chance(50, in_each_test);
}

TEST_CASE("geometry: a browser finds nothing to redraw on sites made by chance, last quarter",
          "[geometry]") {
  look_at_sites_by_chance(75, in_each_test);
}

// For the target geometry-all; takes minutes.
TEST_CASE("geometry: a browser finds nothing to redraw on a thousand sites made by chance",
          "[.geometry-all]") {
  constexpr unsigned at_once = 25;
  for (unsigned first = 0; first < 1000; first += at_once)
    look_at_sites_by_chance(first, at_once);
}

}  // namespace linewright::tests::geometry
