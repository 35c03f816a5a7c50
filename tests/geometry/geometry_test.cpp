// Drawn sheets, read back through a browser that knows nothing of how they were laid out.
#include <algorithm>
#include <cstdlib>
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

// A hundred; as many as the variable says where all are wanted (target geometry-all).
unsigned sites_by_chance() {
  const char* wanted = std::getenv("LINEWRIGHT_SITES_BY_CHANCE");
  return wanted == nullptr ? 100U : static_cast<unsigned>(std::strtoul(wanted, nullptr, 10));
}

// Each fault by itself, so that a long list stays legible.
void report(const Faults& faults) {
  constexpr std::size_t most = 40;
  for (std::size_t i = 0; i < std::min(most, faults.size()); ++i)
    FAIL_CHECK(faults[i]);
  CHECK(faults.size() == 0);
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

TEST_CASE("geometry: a browser finds nothing to redraw on sites made by chance", "[.chance]") {
  std::vector<Drawn> sheets;
  for (unsigned seed = 0; seed < sites_by_chance(); ++seed) {
    const bool nasty = seed % 3 == 2;
    add_sheets(nasty ? nasty_site(seed / 3) : made_site(seed),
               (nasty ? "nasty " : "made ") + std::to_string(nasty ? seed / 3 : seed), sheets);
  }
  report(faults_in(sheets));
}

}  // namespace linewright::tests::geometry
