#include <algorithm>
#include <set>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "input/read.hpp"
#include "input/sections.hpp"

using namespace linewright;
using nlohmann::json;

namespace {

// The part of the schema that describes a section: the root itself, or a definition of its title.
json part_of(const json& schema, std::string_view title) {
  if (schema.at("title") == title) return schema;
  for (const auto& [name, definition] : schema.at("definitions").items())
    if (definition.value("title", "") == title) return definition;
  return nullptr;
}

void collect_undescribed(const json& node, const std::string& path, std::set<std::string>& found) {
  if (node.contains("properties") && node["properties"].is_object())
    for (const auto& [key, value] : node["properties"].items()) {
      bool described = value.contains("description");
      if (value.contains("$ref")) described = true;  // described where it is defined
      if (!described) found.insert(fmt::format("{}/{}", path, key));
    }
  for (const auto& [key, value] : node.items())
    if (value.is_structured()) collect_undescribed(value, fmt::format("{}/{}", path, key), found);
}

}  // namespace

TEST_CASE("schema: it knows just the keys that the reader knows, section by section") {
  const json schema = json::parse(input::schema());
  for (const input::Section* section : input::all_sections()) {
    INFO(section->name);
    const json part = part_of(schema, section->name);
    REQUIRE(part.is_object());
    std::set<std::string> in_schema;
    for (const auto& [key, value] : part.at("properties").items())
      in_schema.insert(key);
    const std::set<std::string> in_reader(section->keys.begin(), section->keys.end());
    CHECK(in_schema == in_reader);
  }
}

TEST_CASE("schema: every key has a description for editors to show") {
  const json schema = json::parse(input::schema());
  std::set<std::string> undescribed;
  collect_undescribed(schema, "", undescribed);
  CHECK(undescribed == std::set<std::string>{});
  for (const auto& [name, definition] : schema.at("definitions").items()) {
    INFO(name);
    CHECK(definition.contains("description"));
  }
}
