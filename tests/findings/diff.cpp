#include "findings/diff.hpp"

#include <string>

#include <catch2/catch.hpp>

#include "drawing/tools.hpp"
#include "support/paths.hpp"

using namespace linewright;
using namespace linewright::tests;

namespace {

/// So many lines "1" to "N".
std::string numbers(int count) {
  std::string text;
  for (int i = 1; i <= count; ++i)
    text += std::to_string(i) + "\n";
  return text;
}

std::string with_line(std::string text, const std::string& old, const std::string& put) {
  const auto at = ("\n" + text).find("\n" + old + "\n");
  return text.replace(at, old.size(), put);
}

}  // namespace

TEST_CASE("diff: texts that are the same have none") {
  CHECK(findings::unified_diff("a", "", "").empty());
  CHECK(findings::unified_diff("a", numbers(9), numbers(9)).empty());
}

TEST_CASE("diff: three lines stand around what differs") {
  CHECK(findings::unified_diff("house.yaml", numbers(9), with_line(numbers(9), "5", "five")) ==
        "--- house.yaml\n+++ house.yaml\n@@ -2,7 +2,7 @@\n 2\n 3\n 4\n-5\n+five\n 6\n 7\n 8\n");
}

TEST_CASE("diff: what is far apart is told apart, what is near is told together") {
  const auto hunks = [](const std::string& diff) {
    std::size_t count = 0;
    for (auto at = diff.find("@@ -"); at != std::string::npos; at = diff.find("@@ -", at + 1))
      ++count;
    return count;
  };
  const std::string near = with_line(with_line(numbers(30), "5", "x"), "12", "y");
  const std::string far = with_line(with_line(numbers(30), "5", "x"), "13", "y");
  CHECK(hunks(findings::unified_diff("a", numbers(30), near)) == 1);
  CHECK(hunks(findings::unified_diff("a", numbers(30), far)) == 2);
}

TEST_CASE("diff: lines that are only put in or only go") {
  CHECK(findings::unified_diff("a", "", "1\n") == "--- a\n+++ a\n@@ -0,0 +1 @@\n+1\n");
  CHECK(findings::unified_diff("a", "1\n2\n", "2\n") == "--- a\n+++ a\n@@ -1,2 +1 @@\n-1\n 2\n");
}

TEST_CASE("diff: a last line without line break is marked as such") {
  CHECK(findings::unified_diff("a", "1", "1\n") ==
        "--- a\n+++ a\n@@ -1 +1 @@\n-1\n\\ No newline at end of file\n+1\n");
}

TEST_CASE("diff: patch makes the new text of the old one") {
  const std::string before = numbers(60);
  std::string after = with_line(with_line(before, "7", "a\nb"), "31", "c");
  after = with_line(with_line(after, "44", "d"), "60", "60\n61");
  const std::string file = write_scratch("patched.txt", before);
  const std::string diff =
      write_scratch("patch.diff", findings::unified_diff("patched.txt", before, after));
  const std::string folder = file.substr(0, file.rfind('/'));
  const CommandOutcome patched =
      run_command("cd " + folder + " && GIT_CEILING_DIRECTORIES=" + build_folder() +
                  "/scratch git apply -p0 " + diff);
  INFO(patched.output);
  CHECK(patched.exit == 0);
  CHECK(read_file(file) == after);
}
