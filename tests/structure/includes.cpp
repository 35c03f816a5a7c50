// Holds the table of folders in DEVELOPERS.md against every #include of lib/, rules/ and cli/.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "support/paths.hpp"

namespace {

using Folders = std::set<std::string>;

const Folders below_check{"units", "findings", "site", "network", "electrical"};
const Folders with_figures{"units", "findings", "site", "network", "electrical", "figures"};

/// What each folder may include besides itself. The top of lib/ ("lib") gathers everything.
const std::map<std::string, Folders> may_include{
    {"units", {}},
    {"findings", {"units"}},
    {"site", {"units", "findings"}},
    {"input", {"units", "findings", "site"}},
    {"network", {"units", "findings", "site"}},
    {"electrical", {"units"}},
    {"check", with_figures},
    {"rules", {"units", "findings", "site", "network", "electrical", "figures", "check"}},
    {"diagram", {"units", "site"}},
    {"drawing", {"units", "diagram"}},
    {"figures", below_check},
    {"documents", with_figures},
};

/// Who may touch which library, by how its headers are named.
const std::vector<std::pair<std::string, Folders>> libraries{
    {"yaml-cpp/", {"input"}},
    {"nlohmann/", {"findings"}},
    {"gvc.h", {"diagram"}},
    {"cgraph.h", {"diagram"}},
    {"cairo", {"drawing"}},
    {"hb", {"drawing"}},
    {"harfbuzz/", {"drawing"}},
    {"ft2build.h", {"drawing"}},
    {"freetype/", {"drawing"}},
    {"pugixml", {"drawing"}},
    {"cadical", {"network"}},
    {"CLI/", {"cli"}},
    // lib/ takes text and gives text: it opens no file, reads no clock, locale or environment.
    {"fstream", {"cli"}},
    {"filesystem", {"cli"}},
    {"iostream", {"cli"}},
    {"chrono", {"cli"}},
    {"ctime", {"cli"}},
    {"time.h", {"cli"}},
    {"locale", {"cli"}},
    {"clocale", {"cli"}},
    {"regex", {}},
};

/// "lib/diagram/route.cpp" belongs to "diagram", "rules/rcd/selectivity.cpp" to "rules".
std::string folder_of(const std::string& file) {
  std::string top = file.substr(0, file.find('/'));
  if (top != "lib") return top;
  const std::string inside = file.substr(top.size() + 1);
  const std::size_t slash = inside.find('/');
  return slash == std::string::npos ? "lib" : inside.substr(0, slash);
}

/// The header's name when the line includes one of that kind, else nothing.
std::string included(const std::string& line, char open, char close) {
  const std::string start = std::string("#include ") + open;
  if (!line.starts_with(start)) return {};
  return line.substr(start.size(), line.find(close, start.size()) - start.size());
}

std::string ours_not_allowed(const std::string& folder, const std::string& header) {
  const std::string target = header.substr(0, header.find('/'));
  const auto row = may_include.find(folder);
  const bool gathers = folder == "cli" || folder == "lib";
  if (target == header || target == folder || gathers) return {};
  if (row != may_include.end() && row->second.contains(target)) return {};
  return fmt::format("{}/ may not include {}/", folder, target);
}

std::string theirs_not_allowed(const std::string& folder, const std::string& header) {
  for (const auto& [name, folders] : libraries) {
    const bool prefix = name.ends_with('/') || name == "cairo" || name == "hb" || name == "cadical";
    const bool matches =
        prefix ? header.starts_with(name) : header == name || header == name + ".hpp";
    if (matches && !folders.contains(folder)) {
      return fmt::format("{}/ may not touch <{}>", folder, header);
    }
  }
  return {};
}

/// Every include of the text that the table forbids, as "file:line: what".
std::vector<std::string> violations(const std::string& file, std::istream& text) {
  std::vector<std::string> found;
  const std::string folder = folder_of(file);
  int number = 0;
  for (std::string line; std::getline(text, line);) {
    ++number;
    const std::string ours = included(line, '"', '"');
    const std::string theirs = included(line, '<', '>');
    std::string problem;
    if (!ours.empty()) problem = ours_not_allowed(folder, ours);
    if (!theirs.empty()) problem = theirs_not_allowed(folder, theirs);
    if (!problem.empty()) found.push_back(fmt::format("{}:{}: {}", file, number, problem));
  }
  return found;
}

std::vector<std::string> violations_in(const std::string& file, const std::string& text) {
  std::istringstream stream(text);
  return violations(file, stream);
}

/// All sources but those of tools that run at build time only.
std::vector<std::string> sources() {
  namespace fs = std::filesystem;
  const fs::path root = linewright::tests::source_folder();
  std::vector<std::string> files;
  for (const char* top : {"lib", "rules", "cli"}) {
    for (const auto& entry : fs::recursive_directory_iterator(root / top)) {
      const fs::path extension = entry.path().extension();
      const bool build_tool = entry.path().parent_path().filename() == "tool";
      if (!build_tool && (extension == ".hpp" || extension == ".cpp")) {
        files.push_back(fs::relative(entry.path(), root).generic_string());
      }
    }
  }
  std::ranges::sort(files);
  return files;
}

}  // namespace

TEST_CASE("includes: no folder reaches outside its row of the table") {
  std::vector<std::string> all;
  for (const std::string& file : sources()) {
    std::ifstream text(linewright::tests::source_folder() + "/" + file);
    REQUIRE(text.good());
    const std::vector<std::string> found = violations(file, text);
    all.insert(all.end(), found.begin(), found.end());
  }
  CHECK(all == std::vector<std::string>{});
}

TEST_CASE("includes: the check finds a forbidden folder at its line") {
  CHECK(violations_in("lib/diagram/route.cpp", "// one\n\n#include \"network/network.hpp\"\n") ==
        std::vector<std::string>{"lib/diagram/route.cpp:3: diagram/ may not include network/"});
  CHECK(violations_in("lib/check/rule.hpp", "#include \"input/read.hpp\"\n").size() == 1);
  CHECK(violations_in("lib/units/read.hpp", "#include \"findings/place.hpp\"\n").size() == 1);
}

TEST_CASE("includes: the check finds a library out of its folder, and the clock in lib/") {
  CHECK(violations_in("lib/site/site.cpp", "#include <yaml-cpp/yaml.h>\n") ==
        std::vector<std::string>{"lib/site/site.cpp:1: site/ may not touch <yaml-cpp/yaml.h>"});
  CHECK(violations_in("rules/rcd/one.cpp", "#include <chrono>\n").size() == 1);
  CHECK(violations_in("lib/diagram/draw.cpp", "#include <cairo/cairo-pdf.h>\n").size() == 1);
}

TEST_CASE("includes: what the table allows passes") {
  CHECK(violations_in("lib/input/read.cpp",
                      "#include <yaml-cpp/yaml.h>\n#include <string>\n"
                      "#include \"site/site.hpp\"\n")
            .empty());
  CHECK(violations_in("cli/main.cpp", "#include <fstream>\n#include \"input/read.hpp\"\n").empty());
  CHECK(violations_in("lib/linewright.cpp", "#include \"check/run.hpp\"\n").empty());
}
