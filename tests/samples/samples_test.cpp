// The samples: four sound ones without danger or breach, fifteen faulty ones with just theirs.
#include <algorithm>
#include <filesystem>
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

}  // namespace linewright::tests
