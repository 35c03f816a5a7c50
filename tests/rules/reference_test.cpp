#include "rules/reference.hpp"

#include <fstream>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>

#include "rules/registry.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

std::string read(const std::string& path) {
  const std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// What `explain` says of a rule that there is.
std::string explained(std::string_view id) {
  const auto text = rules::explain(id);
  if (!text) FAIL("no rule " << id);
  return text.value_or("");
}

/// The same words with one space between.
std::string on_one_line(const std::string& text) {
  std::istringstream words(text);
  std::string line;
  for (std::string word; words >> word;)
    line += (line.empty() ? "" : " ") + word;
  return line;
}

std::size_t longest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t longest = 0;
  for (std::string line; std::getline(lines, line);)
    longest = std::max(longest, line.size());
  return longest;
}

TEST_CASE("rule reference: rules/RULES.md is what the rules print") {
  const std::string path = source_folder() + "/rules/RULES.md";
  if (approving()) std::ofstream(path, std::ios::binary) << rules::rule_reference();
  const bool same = read(path) == rules::rule_reference();
  INFO("rules/RULES.md is stale; write it anew with -t approve");
  CHECK(same);
}

TEST_CASE("rule reference: every rule stands in it with its words, clauses and example") {
  const std::string text = rules::rule_reference();
  for (const check::Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    CHECK(text.find(rule->id) != std::string::npos);
    CHECK(text.find(rule->must_hold) != std::string::npos);
    CHECK(text.find(rule->why) != std::string::npos);
    CHECK(text.find(rule->example) != std::string::npos);
    for (const std::string_view clause : rule->clauses)
      CHECK(text.find(clause) != std::string::npos);
  }
}

TEST_CASE("explain: every rule is explained with its clauses") {
  for (const check::Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    const std::string text = explained(rule->id);
    CHECK(text.rfind(std::string(rule->id) + " (", 0) == 0);
    CHECK(text.find("written in:") != std::string::npos);
    CHECK(text.find("must hold:") != std::string::npos);
  }
}

TEST_CASE("explain: a clause that nobody has seen is marked as to be confirmed") {
  const std::string text = explained("transfer/bypass-source-known");
  CHECK(text.find("551.4 (to be confirmed)") != std::string::npos);
}

TEST_CASE("explain: national values stand with the profiles that have them") {
  const std::string text = explained("transfer/generator-inlet");
  const std::string unfolded = on_one_line(text);
  CHECK(unfolded.find("joined in AU, NZ") != std::string::npos);
  CHECK(unfolded.find("opened in international, ") != std::string::npos);
}

TEST_CASE("explain: prose is folded at 80 columns") {
  const std::string text = explained("transfer/interlock-by-construction");
  CHECK(longest_line(text.substr(0, text.find("The smallest site"))) <= 80);
}

TEST_CASE("explain: a name without its family is enough where only one rule has it") {
  CHECK(explained("generator-inlet") == explained("transfer/generator-inlet"));
  CHECK_FALSE(rules::explain("transfer/generator-outlet").has_value());
  CHECK_FALSE(rules::explain("").has_value());
}

TEST_CASE("rule list: names every rule once") {
  const std::string text = rules::rule_list();
  for (const check::Rule* rule : rules::all_rules()) {
    const auto first = text.find(std::string(rule->id) + " (");
    INFO(rule->id);
    REQUIRE(first != std::string::npos);
    CHECK(text.find(std::string(rule->id) + " (", first + 1) == std::string::npos);
  }
}

}  // namespace
}  // namespace linewright::tests
