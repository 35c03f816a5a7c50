// The examples of samples/SITE-FILE.md: joined, they are one file, and every line of it reads.
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "input/cable_line.hpp"
#include "input/device_line.hpp"
#include "input/read.hpp"
#include "input/sections.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;

namespace {

// The indented blocks of the page, without their indentation.
std::vector<std::string> blocks() {
  std::ifstream page(tests::source_folder() + "/samples/SITE-FILE.md");
  std::vector<std::string> found;
  bool inside = false;
  for (std::string line; std::getline(page, line);) {
    const bool indented = line.starts_with("    ");
    if (indented && !inside) found.emplace_back();
    if (indented) found.back() += line.substr(4) + "\n";
    inside = indented;
  }
  return found;
}

bool begins_with_root_key(const std::string& block) {
  for (const std::string_view key : input::root_section.keys)
    if (block.starts_with(std::string(key) + ":")) return true;
  return false;
}

std::string joined_examples() {
  std::string text;
  for (const std::string& block : blocks())
    if (begins_with_root_key(block)) text += block;
  return text;
}

}  // namespace

TEST_CASE("reference: the examples joined are a site without mistake") {
  const std::string text = joined_examples();
  CHECK(tests::mistakes_in(text) == "");
  const site::Site site = tests::site_from(text);
  CHECK(site.assemblies.size() == 5);
  CHECK(site.states.size() == 6);  // grid, island, generator, bypass, off, and the works
  CHECK(site.find("-X5") != site::none);
}

TEST_CASE("reference: every key of the format stands in an example or in the text") {
  const std::ifstream page(tests::source_folder() + "/samples/SITE-FILE.md");
  std::ostringstream text;
  text << page.rdbuf();
  for (const input::Section* section : input::all_sections())
    for (const std::string_view key : section->keys) {
      INFO(section->name << ": " << key);
      const std::string word(key);
      const bool found = text.str().find("`" + word) != std::string::npos ||
                         text.str().find(word + ":") != std::string::npos ||
                         text.str().find("`{" + word) != std::string::npos ||
                         text.str().find(", " + word + "}") != std::string::npos ||
                         text.str().find("{" + word) != std::string::npos;
      const bool only_printed = word == "ready made";
      CHECK((found || only_printed));
    }
}

TEST_CASE("reference: the device lines read, with what the remarks say of them") {
  std::size_t lines = 0;
  for (const std::string& block : blocks()) {
    if (!block.starts_with("-Q1 switch-disconnector")) continue;
    std::istringstream rows(block);
    for (std::string row; std::getline(rows, row); ++lines) {
      INFO(row);
      const std::string line = row.substr(0, row.find("  #"));
      input::Mistakes mistakes;
      CHECK(input::read_device(input::scalar(line, {1, 1, 1}), mistakes).has_value());
      CHECK(mistakes.empty());
    }
  }
  CHECK(lines == 9);
}
