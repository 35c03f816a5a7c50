#include "findings/text.hpp"

#include <algorithm>
#include <string>

#include <catch2/catch.hpp>

using namespace linewright;
using namespace linewright::findings;

namespace {

constexpr std::string_view source =
    "name: lodge\n"
    "states:\n"
    "    island: {closed: [-Q3, -XB1, -XB2]}\n"
    "bonds:\n"
    "  -XB1: N-PE\n"
    "  -XB2: N-PE\n";

Report lodge() {
  Report report;
  report.file = "lodge.yaml";
  report.site = "Lodge";
  report.profile = "international";
  report.counts = {.rules = 3, .hold = 1, .broken = 1, .open = 1, .not_relevant = 0};
  return report;
}

Finding two_bonds() {
  return {.rule = "earthing/one-bond-per-state",
          .severity = Severity::danger,
          .state = "island",
          .message = "'island' joins neutral and earth 2 times, must be 1",
          .why = "Joined twice, load current returns through protective conductors.",
          .remedy = "open all bonds but one",
          .clauses = {"first clause", "second clause"},
          .where = {3, 5, 6},
          .notes = {{{5, 3, 4}, "bond '-XB1' is closed"}, {{6, 3, 4}, "bond '-XB2' is closed"}}};
}

}  // namespace

TEST_CASE("text: a finding reads like a compiler's message") {
  Report report = lodge();
  report.findings.push_back(two_bonds());
  CHECK(report_text(report, source, {}) ==
        "lodge.yaml:3:5: danger: 'island' joins neutral and earth 2 times, must be 1 "
        "[earthing/one-bond-per-state]\n"
        "    3 |     island: {closed: [-Q3, -XB1, -XB2]}\n"
        "      |     ^~~~~~\n"
        "  lodge.yaml:5:3: bond '-XB1' is closed\n"
        "  lodge.yaml:6:3: bond '-XB2' is closed\n"
        "  why:    Joined twice, load current returns through protective conductors.\n"
        "  mend:   open all bonds but one\n"
        "  clause: first clause; second clause\n"
        "\n"
        "lodge.yaml: 1 danger, 0 breaches, 0 advice, 0 open; 3 rules, profile international: "
        "1 hold, 1 broken, 1 open, 0 not relevant\n"
        "Advisory only: check against local codes; work only by licensed people; prove dead before "
        "touching.\n");
}

TEST_CASE("text: an open point names the missing value and is counted before the rules") {
  Report report = lodge();
  report.open.push_back({.rule = "rcd/tt-resistance-product",
                         .element = "-F1",
                         .message = "the electrode has no resistance",
                         .missing = "its measured value, key 'electrode'",
                         .where = {1, 1, 4}});
  report.not_checked = {"mechanical strength"};
  const std::string text = report_text(report, source, {});
  CHECK(text.starts_with(
      "lodge.yaml:1:1: open: the electrode has no resistance [rcd/tt-resistance-product]\n"
      "  at:     '-F1'\n"
      "  needs:  its measured value, key 'electrode'\n"
      "\n"
      "not checked: mechanical strength\n"
      "lodge.yaml: 0 dangers, 0 breaches, 0 advice, 1 open; "));
}

TEST_CASE("text: what stands nowhere in the file is shown without line or mark") {
  Report report = lodge();
  Finding finding = two_bonds();
  finding.where = {};
  finding.notes.clear();
  report.findings.push_back(finding);
  const std::string text = report_text(report, source, {});
  CHECK(text.starts_with("lodge.yaml: danger: 'island' joins"));
  CHECK(text.find(" | ") == std::string::npos);
}

TEST_CASE("text: the brief form keeps every finding, the sum and the caution") {
  Report report = lodge();
  report.findings = {two_bonds(), two_bonds()};
  report.open.push_back({.message = "no value"});
  const std::string text = report_text(report, source, {Color::off, Detail::brief});
  CHECK(std::ranges::count(text, '\n') == 4);
  CHECK(text.find("2 dangers, 0 breaches, 0 advice, 1 open") != std::string::npos);
  CHECK(text.find(caution) != std::string::npos);
}

TEST_CASE("text: colour adds escapes and changes no word") {
  Report report = lodge();
  report.findings.push_back(two_bonds());
  const std::string plain = report_text(report, source, {});
  std::string colored = report_text(report, source, {Color::on, Detail::full});
  CHECK(plain.find('\x1b') == std::string::npos);
  CHECK(colored.size() > plain.size());
  for (std::size_t at = colored.find('\x1b'); at != std::string::npos; at = colored.find('\x1b')) {
    colored.erase(at, colored.find('m', at) - at + 1);
  }
  CHECK(colored == plain);
}

TEST_CASE("text: escapes in the user's file and its name reach no terminal") {
  Report report = lodge();
  report.file = "bad\x1b[31m.yaml";
  Finding finding = two_bonds();
  finding.message = "'\x1b]0;title\x07' is unknown";
  finding.where = {1, 1, 3};
  report.findings.push_back(finding);
  const std::string text = report_text(report, "a: \x1b[2J\xff\n", {});
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
  CHECK(text.find('\xff') == std::string::npos);
}

TEST_CASE("text: mistakes of a file end with what was not done") {
  const Mistake mistakes[] = {{.where = {2, 1, 6},
                               .message = "'states' stands twice",
                               .mend = "keep one",
                               .notes = {{{1, 1, 4}, "first here"}}}};
  CHECK(mistakes_text("lodge.yaml", mistakes, source, {}) ==
        "lodge.yaml:2:1: error: 'states' stands twice\n"
        "    2 | states:\n"
        "      | ^~~~~~\n"
        "  lodge.yaml:1:1: first here\n"
        "  mend:   keep one\n"
        "lodge.yaml: 1 mistake; nothing was checked\n"
        "Advisory only: check against local codes; work only by licensed people; prove dead before "
        "touching.\n");
}

TEST_CASE(
    "text: what may be a danger stays in the brief form and in the sum, other open points go") {
  Report report = lodge();
  report.open.push_back({.rule = "rcd/selectivity",
                         .severity = Severity::breach,
                         .element = "-F1",
                         .message = "whether '-F1' is delayed",
                         .missing = "'S' of '-F1'"});
  report.open.push_back({.rule = "earthing/bond-present-when-islanded",
                         .severity = Severity::danger,
                         .element = "-T1",
                         .state = "island",
                         .message = "what '-T1' does with its neutral",
                         .missing = "'bond' of '-T1'"});
  const std::string brief = report_text(report, source, {.color = {}, .detail = Detail::brief});
  CHECK(brief.find("open, may be danger: what '-T1' does with its neutral") != std::string::npos);
  CHECK(brief.find("whether '-F1' is delayed") == std::string::npos);
  CHECK(brief.find("2 open (1 may be danger)") != std::string::npos);
  report.open.push_back(report.open.front());
  report.open.back().missing = "another value";
  CHECK(report_text(report, source, {.color = {}, .detail = Detail::brief}).find("3 open") !=
        std::string::npos);
  const std::string twice = report_text(report, source, {.color = {}, .detail = Detail::brief});
  CHECK(twice.find("what '-T1' does") == twice.rfind("what '-T1' does"));
}

TEST_CASE("text: a finding that stands in several states names them all") {
  Report report = lodge();
  report.findings.push_back({.rule = "rcd/no-borrowed-neutral",
                             .element = "-E1",
                             .state = "grid, island",
                             .message = "its neutral is another's"});
  const std::string text = report_text(report, source, {});
  CHECK(text.find("at:     '-E1' in states grid, island\n") != std::string::npos);
}

TEST_CASE("text: what is to be confirmed on site is announced, and counts as no finding") {
  Report report = lodge();
  report.counts.to_confirm = 1;
  report.questions = {{.rule = "rcd/test-on-site",
                       .element = "-F1",
                       .question = "does it open at its rated residual current",
                       .expected = "within 300 ms"}};
  const std::string text = report_text(report, source, {});
  CHECK(
      text.starts_with("lodge.yaml: 0 dangers, 0 breaches, 0 advice, 0 open; 3 rules, profile "
                       "international: 1 hold, 1 broken, 1 open, 0 not relevant, 1 to confirm\n"
                       "1 thing to confirm on site: linewright check --questions lodge.yaml\n"));
}

TEST_CASE("text: questions for the site are grouped by what they are about") {
  Report report = lodge();
  const auto question = [](std::string element, std::string words) {
    return Question{.rule = "rcd/test-on-site",
                    .element = std::move(element),
                    .question = std::move(words),
                    .expected = "yes"};
  };
  report.questions = {question("-F1", "first"), question("", "second"), question("-F1", "third")};
  CHECK(questions_text(report, {}) ==
        "'-F1'\n"
        "  first [rcd/test-on-site]\n"
        "    expected: yes\n"
        "  third [rcd/test-on-site]\n"
        "    expected: yes\n"
        "the site as a whole\n"
        "  second [rcd/test-on-site]\n"
        "    expected: yes\n"
        "lodge.yaml: 3 things to confirm on site\n" +
            std::string(caution) + "\n");
}
