// The drawings of the samples as somebody looked at them last. Whoever changes them looks at them
// anew, whole and near, and then runs  cmake --build build/release -t approve
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>

#include "linewright.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

std::string content_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// The fonts are data of their own, with tests of their own.
std::string without_fonts(std::string svg) {
  const std::string before = "base64,";
  for (std::size_t at = svg.find(before); at != std::string::npos; at = svg.find(before, at)) {
    at += before.size();
    svg.erase(at, svg.find(')', at) - at);
  }
  return svg;
}

/// The first line in which two drawings differ, for people; empty if they are the same.
std::string first_difference(const std::string& looked_at, const std::string& drawn) {
  std::istringstream old_lines(looked_at);
  std::istringstream new_lines(drawn);
  std::string before;
  std::string now;
  for (int number = 1;; ++number) {
    const bool has_before = static_cast<bool>(std::getline(old_lines, before));
    const bool has_now = static_cast<bool>(std::getline(new_lines, now));
    if (!has_before && !has_now) return {};
    if (has_before && has_now && before == now) continue;
    return "line " + std::to_string(number) +
           "\n  looked at: " + (has_before ? before.substr(0, 400) : "(ends)") +
           "\n  drawn now: " + (has_now ? now.substr(0, 400) : "(ends)");
  }
}

/// The golden sheets of a sample, by their files' names.
std::set<std::string> kept_of(const std::string& folder, const std::string& sample) {
  std::set<std::string> kept;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().filename().string().starts_with(sample + "-"))
      kept.insert(entry.path().filename().string());
  return kept;
}

}  // namespace

TEST_CASE("golden: the sheets of the samples are those that were looked at") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const std::string folder = source_folder() + "/tests/golden/";
  const std::string site = source_folder() + "/samples/" + name + "/" + name + ".yaml";
  const Checked checked = check_site(content_of(site), name + ".yaml", {});
  const auto drawn = draw_site(checked, {.file_stem = name, .states = StatePictures::drawn});
  REQUIRE(drawn);
  std::set<std::string> found;
  for (const DrawnSheet& sheet : drawn->sheets) {
    const std::string file = name + "-" + sheet.name + ".svg";
    const std::string now = without_fonts(sheet.svg);
    found.insert(file);
    if (approving()) std::ofstream(folder + file, std::ios::binary) << now;
    INFO(file << ": look at it, then approve it");
    CHECK(first_difference(content_of(folder + file), now) == "");
  }
  if (approving())
    for (const std::string& file : kept_of(folder, name))
      if (!found.contains(file)) std::filesystem::remove(folder + file);
  CHECK(kept_of(folder, name) == found);
}

}  // namespace linewright::tests
