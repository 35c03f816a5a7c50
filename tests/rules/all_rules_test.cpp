// What holds for every rule, whoever wrote it.
#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "check/run.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"
#include "support/judge.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

using check::Rule;

std::string hyphens(std::string text) {
  std::ranges::replace(text, '_', '-');
  return text;
}

/// "family/name-with-hyphens" of every source file in a family folder, sorted as the folders are.
std::vector<std::string> ids_from_files() {
  std::vector<std::string> ids;
  const std::filesystem::path folder = source_folder() + "/rules";
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    const auto& path = entry.path();
    if (path.extension() != ".cpp" || path.parent_path() == folder) continue;
    ids.push_back(path.parent_path().filename().string() + "/" + hyphens(path.stem().string()));
  }
  std::ranges::sort(ids);
  return ids;
}

std::string test_file(const Rule& rule) {
  std::string name(rule.id);
  std::ranges::replace(name, '-', '_');
  return source_folder() + "/tests/rules/" + name + "_test.cpp";
}

bool is_sentence(std::string_view text) {
  return text.size() > 20 && text.back() == '.' && text.front() >= 'A' && text.front() <= 'Z';
}

int words(const std::string& text) {
  return static_cast<int>(std::ranges::count(text, ' ')) + 1;
}

TEST_CASE("all rules: each file of a family folder is one rule, whose id is its path") {
  std::vector<std::string> ids;
  for (const Rule* rule : rules::all_rules())
    ids.emplace_back(rule->id);
  std::ranges::sort(ids);
  CHECK(ids == ids_from_files());
}

TEST_CASE("all rules: no id is given twice") {
  std::set<std::string_view> ids;
  for (const Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    CHECK(ids.insert(rule->id).second);
  }
}

TEST_CASE("all rules: every one has a test file of its own") {
  for (const Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    CHECK(std::filesystem::exists(test_file(*rule)));
  }
}

TEST_CASE("all rules: what must hold and why are sentences, and clauses are named") {
  for (const Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    CHECK(is_sentence(rule->must_hold));
    CHECK(is_sentence(rule->why));
    CHECK_FALSE(rule->clauses.empty());
    for (const std::string_view clause : rule->clauses)
      CHECK_FALSE(clause.empty());
    CHECK(rule->check != nullptr);
    CHECK_FALSE(rule->example.empty());
  }
}

TEST_CASE("all rules: a clause from memory is shown as to be confirmed, others are not") {
  for (const Rule* rule : rules::all_rules()) {
    INFO(rule->id);
    const bool from_memory = rule->confirmation == check::Confirmation::memory;
    for (const std::string& clause : check::shown_clauses(*rule))
      CHECK((clause.find("to be confirmed") != std::string::npos) == from_memory);
  }
}

TEST_CASE("all rules: every national value they name is in a table") {
  for (const Rule* rule : rules::all_rules())
    for (const std::string_view key : rule->profile_keys) {
      INFO(rule->id << ": " << key);
      const auto names = rules::profile_names();
      CHECK(std::ranges::any_of(names, [&](const std::string& name) {
        return rules::profile(name)->find(key) != nullptr;
      }));
    }
}

TEST_CASE("all rules: the example breaks that rule and no other") {
  for (const Rule* rule : rules::all_rules()) {
    DYNAMIC_SECTION(rule->id) {
      const Report report = report_on(rule->example);
      std::set<std::string> broken;
      for (const Finding& finding : report.findings) {
        if (finding.severity != Severity::advice || finding.rule == rule->id)
          broken.insert(finding.rule);
      }
      CHECK(broken == std::set<std::string>{std::string(rule->id)});
    }
  }
}

TEST_CASE("all rules: the example's finding has the rule's severity") {
  for (const Rule* rule : rules::all_rules()) {
    DYNAMIC_SECTION(rule->id) {
      const Report report = report_on(rule->example);
      CHECK(std::ranges::any_of(report.findings, [&](const Finding& finding) {
        return finding.rule == rule->id && finding.severity == rule->severity;
      }));
    }
  }
}

TEST_CASE("all rules: a finding states in one clause, and its remedy tells what to do") {
  for (const Rule* rule : rules::all_rules())
    DYNAMIC_SECTION(rule->id) {
      for (const Finding& finding : report_on(rule->example).findings) {
        INFO(finding.rule << ": " << finding.message);
        CHECK(words(finding.message) <= 14);
        CHECK_FALSE(finding.message.ends_with('.'));
        CHECK_FALSE(finding.message.empty());
        CHECK_FALSE(finding.remedy.empty());
        CHECK_FALSE((finding.element.empty() && finding.state.empty()));
        CHECK(finding.where.known());
        // The state belongs to the finding, not into its words: equal words are told once.
        if (!finding.state.empty())
          CHECK(finding.message.find("'" + finding.state + "'") == std::string::npos);
      }
    }
}

TEST_CASE("all rules: an empty site breaks nothing") {
  CHECK(rules_broken(report_on("site: {name: Nothing yet}\n")).empty());
}

}  // namespace
}  // namespace linewright::tests
