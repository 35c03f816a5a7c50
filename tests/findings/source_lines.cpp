#include "findings/source_lines.hpp"

#include <string>

#include <catch2/catch.hpp>

#include "findings/utf8.hpp"

using namespace linewright;
using namespace linewright::findings;

TEST_CASE("source lines: each line is found without its end") {
  const SourceLines lines("one\r\ntwo\n\nfour");
  CHECK(lines.line(1) == "one");
  CHECK(lines.line(2) == "two");
  CHECK(lines.line(3).empty());
  CHECK(lines.line(4) == "four");
  CHECK_FALSE(lines.has(0));
  CHECK_FALSE(lines.has(5));
  CHECK(lines.line(5).empty());
}

TEST_CASE("excerpt: columns count characters, not bytes") {
  // é and ü take two bytes each; x is the 6th character.
  CHECK(excerpt("é: ü x", {1, 6, 1}).mark == "     ^");
}

TEST_CASE("excerpt: wide characters are underlined over their whole width") {
  CHECK(excerpt("名前: x", {1, 1, 2}).mark == "^~~~");
  CHECK(excerpt("名前: x", {1, 5, 1}).mark == "      ^");
}

TEST_CASE("excerpt: tabs are kept so that the mark stays in step") {
  const Excerpt shown = excerpt("\ta\tb", {1, 4, 1});
  CHECK(shown.line == "\ta\tb");
  CHECK(shown.mark == "\t \t^");
}

TEST_CASE("excerpt: a place past the end is marked just behind the line") {
  CHECK(excerpt("abc", {1, 4, 1}).mark == "   ^");
  CHECK(excerpt("abc", {1, 400, 9}).mark == "   ^");
  CHECK(excerpt("", {1, 1, 1}).mark == "^");
}

TEST_CASE("excerpt: a mark ends with its line") {
  CHECK(excerpt("abc", {1, 2, 50}).mark == " ^~");
}

TEST_CASE("excerpt: a very long line is cut to a window around the place") {
  const std::string line = std::string(1000, 'a') + "b" + std::string(1000, 'c');
  const Excerpt shown = excerpt(line, {1, 1001, 1});
  CHECK(count_characters(shown.line) < 170);
  CHECK(shown.line.starts_with("…aaa"));
  CHECK(shown.line.ends_with("ccc…"));
  // The ellipsis takes one column but three bytes.
  CHECK(shown.line.substr(shown.mark.find('^') + 2, 1) == "b");
}
