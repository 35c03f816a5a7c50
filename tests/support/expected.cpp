#include "support/expected.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

#include <catch2/catch.hpp>

#include "linewright.hpp"

namespace linewright::tests {
namespace {

std::string_view severity_word(Severity severity) {
  switch (severity) {
    case Severity::danger:
      return "danger";
    case Severity::breach:
      return "breach";
    case Severity::advice:
      return "advice";
  }
  return {};
}

std::string place_in_words(const std::string& element, const std::string& state) {
  return " at " + (element.empty() ? "site" : element) + (state.empty() ? "" : " in " + state);
}

/// What follows `mark` if the line begins with it.
bool after(std::string_view line, std::string_view mark, std::string_view& rest) {
  if (line.substr(0, mark.size()) != mark) return false;
  rest = line.substr(mark.size());
  return true;
}

std::vector<std::string> in_words(const Report& report, bool advice) {
  std::vector<std::string> words;
  for (const Finding& finding : report.findings) {
    if ((finding.severity == Severity::advice) != advice) continue;
    words.push_back(std::string(severity_word(finding.severity)) + " " + finding.rule +
                    place_in_words(finding.element, finding.state));
  }
  std::ranges::sort(words);
  return words;
}

void read_finding(std::string_view rest, Expected& expected) {
  const std::string_view severity = rest.substr(0, rest.find(' '));
  const bool placed = rest.find(" at ") != std::string_view::npos;
  if (placed && (severity == "danger" || severity == "breach")) {
    expected.findings.emplace_back(rest);
  } else if (placed && severity == "advice") {
    expected.advice.emplace_back(rest);
  } else {
    expected.unread.emplace_back(rest);
  }
}

}  // namespace

Expected read_expected(std::string_view yaml) {
  Expected expected;
  std::istringstream lines{std::string(yaml)};
  for (std::string line; std::getline(lines, line) && line.starts_with('#');) {
    std::string_view rest;
    if (after(line, "# wrong: ", rest)) {
      expected.wrong = rest;
    } else if (after(line, "# expect: ", rest)) {
      read_finding(rest, expected);
    } else if (after(line, "# open: ", rest)) {
      expected.open.emplace_back(rest);
    } else if (after(line, "# waiting: ", rest)) {
      expected.waiting.emplace_back(rest.substr(0, rest.find(':')));
    }
  }
  std::ranges::sort(expected.findings);
  std::ranges::sort(expected.advice);
  return expected;
}

std::vector<std::string> findings_in_words(const Report& report) {
  return in_words(report, false);
}

std::vector<std::string> advice_in_words(const Report& report) {
  return in_words(report, true);
}

std::vector<std::string> open_in_words(const Report& report) {
  std::vector<std::string> words;
  for (const OpenPoint& point : report.open) {
    words.push_back(point.rule + place_in_words(point.element, point.state));
  }
  return words;
}

Report report_on_file(const std::string& path, std::string_view yaml) {
  Checked checked = check_site(yaml, path);
  for (const Mistake& mistake : checked.mistakes) {
    FAIL_CHECK(path << ":" << mistake.where.line << ":" << mistake.where.column << ": "
                    << mistake.message << " (" << mistake.mend << ")");
  }
  return std::move(checked.report);
}

std::string text_of(const std::string& path) {
  const std::ifstream file(path, std::ios::binary);
  INFO(path);
  REQUIRE(file.good());
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<std::string> site_files(const std::string& folder, Depth depth) {
  std::vector<std::string> paths;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.is_directory() && depth == Depth::with_folders) {
      const std::vector<std::string> inner = site_files(entry.path().string(), Depth::one_folder);
      paths.insert(paths.end(), inner.begin(), inner.end());
    } else if (entry.path().extension() == ".yaml") {
      paths.push_back(entry.path().string());
    }
  }
  std::ranges::sort(paths);
  return paths;
}

}  // namespace linewright::tests
