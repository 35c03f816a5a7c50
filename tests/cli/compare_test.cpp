// `linewright compare` as a person or a program uses it.
#include <filesystem>
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "drawing/tools.hpp"
#include "support/paths.hpp"

using namespace linewright::tests;

namespace {

CommandOutcome compare(const std::string& arguments) {
  return run_command(command_path() + " compare " + arguments);
}

std::string terrace() {
  return source_folder() + "/samples/terrace/terrace.yaml";
}

/// The sample with a generator's power or the like written otherwise, as a file of its own.
std::string altered(const std::string& name, const std::string& words, const std::string& other) {
  std::string text = read_file(terrace());
  const auto at = text.find(words);
  REQUIRE(at != std::string::npos);
  return write_scratch(name, text.replace(at, words.size(), other));
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("compare: a file and itself have no difference") {
  const CommandOutcome same = compare(terrace() + " " + terrace());
  CHECK(same.exit == 0);
  CHECK(has(same.output, "no difference"));
}

TEST_CASE("compare: a change is told with its place, and exits with 1") {
  const std::string other = altered("compare-name.yaml", "site:\n  name: ", "site:\n  name: New ");
  const CommandOutcome found = compare(terrace() + " " + other);
  CHECK(found.exit == 1);
  CHECK(has(found.output, "1 change\n"));
  CHECK(has(found.output, "title block: name "));
  CHECK(has(found.output, "The check finds what it found before."));
}

TEST_CASE("compare: a danger that a change brings is told, and gone the other way round") {
  const std::string sound = source_folder() + "/samples/tarn-house/tarn-house.yaml";
  std::string text = read_file(sound);
  const std::string states = "closed in: [island, bypass, ";
  REQUIRE(has(text, states));
  text.replace(text.find(states), states.size(), "closed in: [bypass, ");
  const std::string wrong = write_scratch("compare-bond.yaml", text);
  const CommandOutcome brought = compare(sound + " " + wrong);
  CHECK(brought.exit == 1);
  CHECK(has(brought.output, "Found now, not before:"));
  CHECK(has(brought.output, "[earthing/bond-present-when-islanded]"));
  const CommandOutcome mended = compare(wrong + " " + sound);
  CHECK(has(mended.output, "Found before, not any more:"));
  CHECK_FALSE(has(mended.output, "Found now, not before:"));
}

TEST_CASE("compare: the JSON numbers the changes and gives both places") {
  const std::string other =
      altered("compare-json.yaml", "site:\n  name: ", "site:\n  name: \"\\\"\" #");
  const CommandOutcome found = compare("--format json " + terrace() + " " + other);
  CHECK(found.exit == 1);
  const auto json = nlohmann::json::parse(found.output);
  REQUIRE(json.at("changes").size() == 1);
  const auto& change = json.at("changes")[0];
  CHECK(change.at("number") == 1);
  CHECK(change.at("what") == "changed");
  CHECK(change.at("properties")[0].at("after") == "\"");
  CHECK(json.at("found now").is_array());
  const auto same =
      nlohmann::json::parse(compare("--format json " + terrace() + " " + terrace()).output);
  CHECK(same.at("changes").empty());
}

TEST_CASE("compare: what cannot be read exits with 2, whichever file it is") {
  const std::string broken = write_scratch("compare-broken.yaml", "hello");
  CHECK(compare(terrace() + " " + broken).exit == 2);
  CHECK(compare(broken + " " + terrace()).exit == 2);
  CHECK(compare(terrace() + " " + build_folder() + "/no-such-file.yaml").exit == 2);
  CHECK(compare(terrace()).exit == 2);
}

TEST_CASE("compare: changes are drawn beside the words, and only if there are any") {
  const std::string folder = linewright::tests::build_folder() + "/scratch/compared";
  const std::string other = altered("compare-drawn.yaml", "-F10 C32", "-F10 C40");
  const CommandOutcome found = compare(terrace() + " " + other + " -o " + folder);
  CHECK(found.exit == 1);
  CHECK(has(found.output, "1 change\n"));
  const std::string svg = read_file(folder + "/compare-drawn-changes-overview.svg");
  CHECK(has(svg, "class=\"cloud\""));
  CHECK(has(read_file(folder + "/compare-drawn-changes-changes-1.svg"), "32 A → 40 A"));
  CHECK(compare(terrace() + " " + terrace() + " -o " + folder + "-none").exit == 0);
  CHECK_FALSE(std::filesystem::exists(folder + "-none"));
}
