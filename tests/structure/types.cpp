// No name may stand for two types of one namespace: each would compile by itself, and the linker
// would keep one constructor for both.
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <catch2/catch.hpp>

#include "support/paths.hpp"

namespace {

/// Where each type is defined, by its namespace and name.
using Definitions = std::map<std::string, std::vector<std::string>>;

std::string_view word_at(std::string_view line, std::size_t from) {
  std::size_t end = from;
  while (end < line.size() && line[end] != ' ' && line[end] != '{' && line[end] != ';')
    ++end;
  return line.substr(from, end - from);
}

/// The name of the type whose definition begins in this line at the outermost level, else nothing.
std::string_view defined_in(std::string_view line) {
  constexpr std::array<std::string_view, 4> starts{"struct ", "enum class ", "class ", "union "};
  for (const std::string_view start : starts)
    if (line.starts_with(start) && line.ends_with('{')) return word_at(line, start.size());
  return {};
}

/// Adds the types of a file that the linker can see. Relies on the layout that clang-format gives:
/// a namespace opens and ends in a line of its own.
void add_types(const std::string& file, std::istream& text, Definitions& to) {
  std::vector<std::string> open;
  for (std::string line; std::getline(text, line);) {
    if (line.starts_with("namespace ") && line.ends_with('{'))
      open.emplace_back(word_at(line, std::string_view("namespace ").size()));
    if (line.starts_with("}  // namespace") && !open.empty()) open.pop_back();
    const std::string_view type = defined_in(line);
    const bool unnamed = std::ranges::count(open, std::string()) != 0;
    if (type.empty() || unnamed) continue;
    std::string full;
    for (const std::string& space : open)
      full += space + "::";
    to[full.append(type)].push_back(file);
  }
}

std::vector<std::string> defined_twice(const Definitions& definitions) {
  std::vector<std::string> found;
  for (const auto& [name, files] : definitions) {
    if (files.size() < 2) continue;
    std::string line = name + ":";
    for (const std::string& file : files)
      line += " " + file;
    found.push_back(line);
  }
  return found;
}

Definitions types_in(const std::vector<std::pair<std::string, std::string>>& texts) {
  Definitions found;
  for (const auto& [file, text] : texts) {
    std::istringstream stream(text);
    add_types(file, stream, found);
  }
  return found;
}

/// Programs of their own define types of their own.
bool in_one_program(const std::string& file) {
  return !file.starts_with("tests/perf/") && !file.starts_with("tests/fuzz/") &&
         file.find("/tool/") == std::string::npos;
}

}  // namespace

TEST_CASE("types: no name stands for two types of one namespace") {
  namespace fs = std::filesystem;
  const fs::path root = linewright::tests::source_folder();
  Definitions found;
  for (const char* top : {"lib", "rules", "cli", "tests"}) {
    for (const auto& entry : fs::recursive_directory_iterator(root / top)) {
      const fs::path extension = entry.path().extension();
      const std::string file = fs::relative(entry.path(), root).generic_string();
      if ((extension != ".hpp" && extension != ".cpp") || !in_one_program(file)) continue;
      std::ifstream text(entry.path());
      add_types(file, text, found);
    }
  }
  CHECK(found.size() > 100);
  CHECK(defined_twice(found) == std::vector<std::string>{});
}

TEST_CASE("types: the check finds one name for two types, and only within a namespace") {
  const std::string one = "namespace a::b {\nstruct Block {\n};\n}  // namespace a::b\n";
  const std::string class_of_it =
      "namespace a {\nnamespace b {\nclass Block final : Base {\n};\n}  // namespace b\n"
      "}  // namespace a\n";
  const std::string elsewhere = "namespace a::c {\nstruct Block {\n};\n}  // namespace a::c\n";
  const std::string unseen =
      "namespace a::b {\nnamespace {\nstruct Block {\n};\n}  // namespace\n}  // namespace a::b\n";
  const std::string declared = "namespace a::b {\nstruct Block;\n}  // namespace a::b\n";
  CHECK(defined_twice(types_in({{"x", one}, {"y", class_of_it}})) ==
        std::vector<std::string>{"a::b::Block: x y"});
  CHECK(defined_twice(types_in({{"x", one}, {"y", elsewhere}, {"z", unseen}, {"w", declared}}))
            .empty());
}
