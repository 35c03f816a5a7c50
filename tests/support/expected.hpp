// What a site file under samples/ and tests/ says in its first comments of the findings it must
// give.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"

namespace linewright::tests {

/// The comment lines at the head of a file, each of one of these forms:
///     # wrong: <sentence>                                    what is wrong with the site
///     # expect: <severity> <rule> at <element> [in <states>] a finding; every one is listed
///     # open: <rule> at <element> [in <states>]              an open point that must be among
///     those # waiting: <rule>: <reason>                            a rule that is not there yet
/// `at site` stands for a finding about no one element. Any other comment is a story.
struct Expected {
  std::string wrong;
  std::vector<std::string> findings;  ///< of danger and breach, as written after "expect:", sorted
  std::vector<std::string> advice;    ///< of advice, the same way
  std::vector<std::string> open;      ///< as written after "open:"
  std::vector<std::string> waiting;   ///< ids of rules
  std::vector<std::string> unread;    ///< lines that begin like one of these and cannot be read
};

Expected read_expected(std::string_view yaml);

/// Findings of danger and breach as an `expect` line would have them, sorted.
std::vector<std::string> findings_in_words(const Report& report);

/// Findings of advice, the same way.
std::vector<std::string> advice_in_words(const Report& report);

/// Open points as an `open` line would have them.
std::vector<std::string> open_in_words(const Report& report);

/// The report on a site file, checked as the command would. Mistakes of the file fail the test.
Report report_on_file(const std::string& path, std::string_view yaml);

/// The text of a file. Fails the test if there is none.
std::string text_of(const std::string& path);

/// Paths of the YAML files in a folder, sorted; those in its own folders too if `deep`.
enum class Depth { one_folder, with_folders };
std::vector<std::string> site_files(const std::string& folder, Depth depth);

}  // namespace linewright::tests
