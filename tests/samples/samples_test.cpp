// The samples: four sound ones without danger or breach, fifteen faulty ones with just theirs.
#include <algorithm>
#include <filesystem>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "support/expected.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

using Words = std::vector<std::string>;

std::string samples() {
  return source_folder() + "/samples";
}

Words stories() {
  Words paths = site_files(samples(), Depth::with_folders);
  std::erase_if(paths,
                [](const std::string& path) { return path.find("/faulty/") != std::string::npos; });
  return paths;
}

Words faulty() {
  return site_files(samples() + "/faulty", Depth::one_folder);
}

/// How many lines of a text, comments left out, do not stand in another.
std::size_t lines_of_its_own(const std::string& yaml, const std::string& other) {
  const auto lines_of = [](const std::string& text) {
    Words lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
      if (!line.starts_with('#')) lines.push_back(line);
    std::ranges::sort(lines);
    return lines;
  };
  Words own;
  std::ranges::set_difference(lines_of(yaml), lines_of(other), std::back_inserter(own));
  return own.size();
}

}  // namespace

TEST_CASE("samples: four stories are sound, fifteen files are faulty") {
  CHECK(stories().size() == 4);
  CHECK(faulty().size() == 15);
}

TEST_CASE("samples: each story stands in a folder of its name and gives no danger or breach") {
  for (const std::string& path : stories()) {
    INFO(path);
    const std::filesystem::path file(path);
    CHECK(file.stem() == file.parent_path().filename());
    CHECK(findings_in_words(report_on_file(path, text_of(path))) == Words{});
  }
}

TEST_CASE("samples: each faulty file gives just the findings that its first lines name") {
  Words rules;
  for (const std::string& path : faulty()) {
    INFO(path);
    const std::string yaml = text_of(path);
    const Expected expected = read_expected(yaml);
    CHECK(yaml.starts_with("# wrong: "));
    CHECK(expected.unread == Words{});
    REQUIRE_FALSE(expected.findings.empty());
    const Report report = report_on_file(path, yaml);
    CHECK(findings_in_words(report) == expected.findings);
    for (const Finding& finding : report.findings)
      rules.push_back(finding.rule);
  }
  std::ranges::sort(rules);
  rules.erase(std::unique(rules.begin(), rules.end()), rules.end());
  CHECK(rules.size() >= 15);
}

TEST_CASE("samples: each faulty file is one of the stories but for a few lines") {
  for (const std::string& path : faulty()) {
    INFO(path);
    const std::string yaml = text_of(path);
    std::size_t fewest = yaml.size();
    for (const std::string& story : stories())
      fewest = std::min(fewest, lines_of_its_own(yaml, text_of(story)));
    CHECK(fewest >= 1);
    CHECK(fewest <= 12);
  }
}

}  // namespace linewright::tests
