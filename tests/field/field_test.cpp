// The field cases: what people who fit these systems really asked, each with the verdict it
// deserves. Cases that lean on rules which are not there yet name them as waiting; the test notices
// when such a rule comes.
#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "rules/registry.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

using Words = std::vector<std::string>;

Words cases() {
  return site_files(source_folder() + "/tests/field", Depth::one_folder);
}

/// The number N of the first line "# case N: …" or "# case N, turned over: …".
int number_of(const std::string& yaml) {
  const std::string mark = "# case ";
  REQUIRE(yaml.starts_with(mark));
  return std::stoi(yaml.substr(mark.size(), 2));
}

bool there(const std::string& rule) {
  return std::ranges::any_of(rules::all_rules(),
                             [&](const check::Rule* r) { return r->id == rule; });
}

}  // namespace

TEST_CASE("field cases: all twenty-two are there") {
  std::set<int> numbers;
  for (const std::string& path : cases())
    numbers.insert(number_of(text_of(path)));
  CHECK(numbers.size() == 22);
  CHECK(*numbers.begin() == 1);
  CHECK(*numbers.rbegin() == 22);
}

TEST_CASE("field cases: each gives just the findings that its first lines name") {
  for (const std::string& path : cases()) {
    INFO(path);
    const std::string yaml = text_of(path);
    const Expected expected = read_expected(yaml);
    CHECK(expected.unread == Words{});
    const Report report = report_on_file(path, yaml);
    CHECK(findings_in_words(report) == expected.findings);
    CHECK(advice_in_words(report) == expected.advice);
    const Words open = open_in_words(report);
    for (const std::string& point : expected.open) {
      INFO("open: " << point);
      CHECK_THAT(open, Catch::VectorContains(point));
    }
  }
}

TEST_CASE("field cases: a rule that a case waits for is not there yet") {
  // Waiting, by case: 3 for disconnection times, 9 for breaking capacity, 11 and 14 for meters and
  // buses, 13 for string fuses, 15 for voltage rise. When one of those rules comes, its case turns
  // from waiting to expected.
  std::set<int> waiting;
  for (const std::string& path : cases()) {
    INFO(path);
    const std::string yaml = text_of(path);
    for (const std::string& rule : read_expected(yaml).waiting) {
      INFO(rule);
      CHECK_FALSE(there(rule));
      waiting.insert(number_of(yaml));
    }
  }
  CHECK(waiting == std::set<int>{3, 9, 11, 13, 14, 15});
}

}  // namespace linewright::tests
