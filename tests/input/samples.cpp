#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "input/read.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;

namespace {

std::vector<std::filesystem::path> sample_files() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry :
       std::filesystem::recursive_directory_iterator(tests::source_folder() + "/samples"))
    if (entry.path().extension() == ".yaml") files.push_back(entry.path());
  return files;
}

std::string contents(const std::filesystem::path& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("samples: every one reads without mistake, the faulty ones too") {
  const auto files = sample_files();
  REQUIRE(files.size() >= 4);
  for (const auto& file : files) {
    INFO(file.string());
    CHECK(tests::mistakes_in(contents(file)) == "");
  }
}

TEST_CASE("samples: the expanded form of every one reads back to the same site") {
  for (const auto& file : sample_files()) {
    INFO(file.string());
    const std::string text = contents(file);
    const Result<std::string> expanded = input::show_expanded(text);
    REQUIRE(expanded.has_value());
    CHECK(tests::mistakes_in(*expanded) == "");
    CHECK(tests::summary(tests::site_from(*expanded)) == tests::summary(tests::site_from(text)));
  }
}
