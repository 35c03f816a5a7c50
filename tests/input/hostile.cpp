// Texts that mean harm: each ends in a clear mistake, soon and without much memory.
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>
#include <sys/resource.h>

#include "input/read.hpp"
#include "support/paths.hpp"

using linewright::input::read_site;
using linewright::input::Reading;

namespace {

std::string times(std::string_view piece, std::size_t size, std::string_view line_end = "") {
  std::string text;
  std::size_t line = 0;
  while (text.size() < size) {
    text += piece;
    line += piece.size();
    if (!line_end.empty() && line > 15'000) {
      text += line_end;
      line = 0;
    }
  }
  return text;
}

// The first message for the text, after checking how long it took: time of this process, since a
// busy machine makes any wait longer.
std::string answer(const std::string& text) {
  const std::clock_t start = std::clock();
  const Reading reading = read_site(text);
  const double taken = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
#if defined(__SANITIZE_ADDRESS__)
  CHECK(taken < 20.0);
#else
  CHECK(taken < 1.0);
#endif
  REQUIRE_FALSE(reading.site.has_value());
  REQUIRE_FALSE(reading.mistakes.empty());
  CHECK(reading.mistakes.front().where.known());
  return reading.mistakes.front().message;
}

long peak_kilobytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

}  // namespace

TEST_CASE("hostile: bytes that are no text") {
  CHECK(answer(std::string("a: \0", 4)) == "control character 0x00 in the text");
  CHECK(answer("a: \x1b[2J") == "control character 0x1B in the text");
  CHECK(answer("a: \"\\x1b[2J\"") == "not YAML: control character 0x1B in the text");
  constexpr auto turned = "an invisible character that turns the direction of the text";
  CHECK(answer("a: \xe2\x80\xae") == turned);
  CHECK(answer("a: \xe2\x81\xa7") == turned);
  CHECK(answer("a: \"\\u202e\"") == std::string("not YAML: ") + turned);
  CHECK(answer("a: \xff") == "byte 0xFF is not UTF-8 text");
  CHECK(answer("a: \xc0\xaf") == "byte 0xC0 is not UTF-8 text");
  CHECK(answer("\xed\xa0\x80") == "byte 0xED is not UTF-8 text");
  CHECK(answer(std::string("\xff\xfe"
                           "a\0",
                           4)) == "byte 0xFF is not UTF-8 text");
}

TEST_CASE("hostile: nothing, and much of it") {
  CHECK(answer("") == "the file is empty");
  CHECK(answer("# only a remark\n") == "the file is empty");
  CHECK(answer("hello") == "the file is no site");
  CHECK(answer("[supply]") == "the file is no site");
  CHECK(answer(times(" ", 100'000'000)) == "the file is larger than 2 MB");
  CHECK(answer(times(" ", 1'900'000)) == "a line of more than 16 000 characters");
  CHECK(answer(times("\n", 1'900'000)) == "the file is empty");
}

TEST_CASE("hostile: aliases, anchors, tags, a second document") {
  CHECK(answer("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n") == "anchors ('&') are not read here");
  CHECK(answer("&x [*x]") == "anchors ('&') are not read here");
  CHECK(answer("a: !!python/object x") == "tags ('!') are not read here");
  CHECK(answer("a: !x y") == "tags ('!') are not read here");
  CHECK(answer("supply: {}\n---\nsupply: {}\n") == "a second document starts here");
  CHECK(answer("<<: {a: 1}") == "the file has no key '<<'");
}

TEST_CASE("hostile: deep nesting in every style") {
  const std::string flow = times("[", 100, "") + times("]", 100, "");
  CHECK(answer("a: " + flow) == "nested more than 64 levels deep");
  CHECK(answer(times("- ", 400)) == "nested more than 64 levels deep");
  CHECK(answer(times("? ", 400)) == "nested more than 64 levels deep");
  std::string block;
  for (std::size_t depth = 0; depth < 100; ++depth)
    block += std::string(depth, ' ') + "a:\n";
  CHECK(answer(block) == "nested more than 64 levels deep");
}

TEST_CASE("hostile: floods of brackets, commas, quotes and colons stay small") {
  [[maybe_unused]] const long before = peak_kilobytes();
  for (const std::string_view piece :
       {"[", "{", "[[],", "[a,", "{:", "[:", "a: ", "&a ", "!!a ", "\"", "'", ":", "? "}) {
    INFO(piece);
    CHECK_FALSE(answer(times(piece, 1'900'000, "\n")).empty());
    CHECK_FALSE(answer("a: [\n" + times(piece, 1'900'000, "\n")).empty());
  }
#if !defined(__SANITIZE_ADDRESS__)
  CHECK(peak_kilobytes() - before < 200'000);
#endif
}

TEST_CASE("hostile: types and quantities cannot blow a small file up") {
  std::string types = "types:\n  big: {\n";
  for (int i = 0; i < 2000; ++i)
    types += "    k" + std::to_string(i) + ": 1,\n";
  types += "  }\ninverters:\n";
  for (int i = 0; i < 5000; ++i)
    types += "  -T" + std::to_string(i) + ": {use: big}\n";
  CHECK_FALSE(answer(types).empty());

  std::string alike =
      "supply: {system: 1/N/PE 230 V}\nboards:\n  +A1:\n    feed: [supply]\n    circuits:\n";
  for (int i = 0; i < 1000; ++i)
    alike += "      - {device: B16 1P+N, cable: 3×1.5 mm² 9 m, quantity: 500}\n";
  CHECK(answer(alike) == "copies of this make the site too large");
  CHECK(answer("supply: {system: 1/N/PE 230 V}\nboards: {+A1: {feed: supply, circuits: "
               "[{quantity: 1000000000000}]}}") == "'1000000000000' circuits alike");
}

TEST_CASE("hostile: names that lead to themselves end") {
  CHECK_FALSE(
      answer("assemblies: {+A1: {ports: {backup: 'A1:backup'}}}\nchains: [[A1, A1]]").empty());
  CHECK_FALSE(answer("boards: {+A1: {feed: [A1]}}").empty());
  CHECK_FALSE(answer("types: {a: {use: a}}\ninverters: {-T1: {use: a}}").empty());
}

TEST_CASE("hostile: what the fuzzer found worth keeping still ends in a site or in mistakes") {
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(linewright::tests::source_folder() +
                                                               "/tests/fuzz/corpus/read_site")) {
    INFO(entry.path().string());
    std::ostringstream text;
    text << std::ifstream(entry.path(), std::ios::binary).rdbuf();
    const Reading reading = read_site(text.str());
    CHECK(reading.site.has_value() == reading.mistakes.empty());
    ++files;
  }
  CHECK(files > 100);
}
