#include "seeded/not_found.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include <catch2/catch.hpp>

#include "rules/registry.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

std::string path() {
  return source_folder() + "/tests/seeded/not_found.csv";
}

std::vector<std::string> lines() {
  std::vector<std::string> all;
  std::istringstream text(text_of(path()));
  for (std::string line; std::getline(text, line);)
    all.push_back(line);
  return all;
}

/// sample;kind;place;verdict;reason
NotFound read(const std::string& line) {
  std::vector<std::string> parts{""};
  for (const char c : line) {
    if (c == ';' && parts.size() < 5)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  INFO(line);
  REQUIRE(parts.size() == 5);
  REQUIRE((parts[3] == "harmless" || parts[3] == "missed" || parts[3] == "waiting"));
  CHECK(parts[4].size() > 20);
  return {parts[0], parts[1], parts[2], parts[3], parts[4]};
}

bool is_remark(const std::string& line) {
  return line.empty() || line.front() == '#';
}

}  // namespace

std::vector<NotFound> list_of_not_found() {
  std::vector<NotFound> list;
  for (const std::string& line : lines())
    if (!is_remark(line)) list.push_back(read(line));
  return list;
}

bool waits(const NotFound& line) {
  const std::string rule = line.reason.substr(0, line.reason.find(' '));
  return line.verdict == "waiting" &&
         std::ranges::none_of(rules::all_rules(),
                              [&](const check::Rule* there) { return there->id == rule; });
}

void take_off(std::string_view sample, const std::set<std::string>& found) {
  std::vector<std::string> kept = lines();
  std::erase_if(kept, [&](const std::string& line) {
    if (is_remark(line)) return false;
    const NotFound it = read(line);
    return it.sample == sample && found.contains(it.kind + ";" + it.place);
  });
  std::ofstream file(path());
  for (const std::string& line : kept)
    file << line << '\n';
}

}  // namespace linewright::tests
