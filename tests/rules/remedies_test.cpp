// What holds for every remedy that a rule offers: made in the text, it mends, and harms nothing.
#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "input/edits.hpp"
#include "linewright.hpp"
#include "rules/registry.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"

namespace linewright::tests {
namespace {

/// Rules that offer a remedy. Each must offer one that can be made, somewhere among the sites
/// below.
const std::set<std::string> offering{
    "earthing/bond-follows-grid-contactor",
    "earthing/bond-present-when-islanded",
    "earthing/generator-with-common-neutral",
    "earthing/generator-with-switched-neutral",
    "earthing/neutral-not-open-before-lines",
    "earthing/neutral-poles-of-the-transfer",
    "earthing/no-centre-tapped-or-rcd-fitted-set-on-inlet",
    "earthing/no-local-bond-on-tt-while-on-grid",
    "earthing/no-pen-through-rcd-or-switch",
    "earthing/no-second-bond-while-on-grid",
    "earthing/one-neutral-bond-per-state",
    "earthing/pen-split-once",
    "rcd/additional-protection-circuits",
    "rcd/bidirectional-where-energy-reverses",
    "rcd/no-borrowed-neutral",
    "rcd/opens-all-live-conductors",
    "rcd/selectivity",
    "rcd/type-at-least-a",
    "rcd/type-for-ev",
    "rcd/type-for-pv-inverter",
    "rcd/upstream-not-blinded",
    "transfer/all-live-conductors-isolated-from-grid",
    "transfer/break-before-make",
    "transfer/generator-inlet",
    "transfer/interlock-by-construction",
    "transfer/positions-complete",
};

/// A site that was written for another test, an example or a sample.
struct Written {
  std::string name;
  std::string yaml;
};

void add_files(const std::string& folder, std::vector<Written>& sites) {
  for (const std::string& path : site_files(source_folder() + "/" + folder, Depth::with_folders))
    sites.push_back({path.substr(source_folder().size() + 1), text_of(path)});
}

/// The raw texts of a source file, as far as they look like a site.
void add_raw_texts(const std::string& path, std::vector<Written>& sites) {
  const std::string source = text_of(path);
  const std::string name = path.substr(source_folder().size() + 1);
  for (std::size_t at = source.find("R\"("); at != std::string::npos;
       at = source.find("R\"(", at)) {
    const std::size_t end = source.find(")\"", at);
    if (end == std::string::npos) return;
    const std::string text = source.substr(at + 3, end - at - 3);
    if (text.find("supply:") != std::string::npos || text.find("boards:") != std::string::npos)
      sites.push_back({name + " at byte " + std::to_string(at), text});
    at = end;
  }
}

std::vector<std::string> test_sources() {
  std::vector<std::string> paths;
  for (const auto& entry :
       std::filesystem::recursive_directory_iterator(source_folder() + "/tests/rules"))
    if (entry.path().extension() == ".cpp") paths.push_back(entry.path().string());
  std::ranges::sort(paths);
  return paths;
}

const std::vector<Written>& all_sites() {
  static const std::vector<Written> sites = [] {
    std::vector<Written> all;
    for (const check::Rule* rule : rules::all_rules())
      all.push_back({"example of " + std::string(rule->id), std::string(rule->example)});
    add_files("tests/field", all);
    add_files("samples", all);
    for (const std::string& path : test_sources())
      add_raw_texts(path, all);
    return all;
  }();
  return sites;
}

template <class T>
std::ptrdiff_t alike(const std::vector<T>& list, const T& one) {
  return std::ranges::count_if(list, [&](const T& other) {
    return other.rule == one.rule && other.element == one.element &&
           other.severity != Severity::advice;
  });
}

/// What is worse than before, one a line: what is broken, and what the rule of the finding leaves
/// open where it was sure before.
std::string harm(const Report& before, const Report& after, const Finding& mended) {
  std::string found;
  for (const Finding& one : after.findings)
    if (one.severity != Severity::advice &&
        alike(after.findings, one) > alike(before.findings, one))
      found += one.rule + " at " + one.element + ": " + one.message + "\n";
  for (const OpenPoint& one : after.open)
    if (one.rule == mended.rule && alike(after.open, one) > alike(before.open, one))
      found += "open: " + one.rule + " at " + one.element + ": " + one.message + "\n";
  return found;
}

bool holds_still(const Report& report, const Finding& finding) {
  return std::ranges::any_of(report.findings, [&](const Finding& other) {
    return other.rule == finding.rule && other.element == finding.element &&
           other.message == finding.message;
  });
}

/// The remarks of a file, in order.
std::vector<std::string> remarks(const std::string& yaml) {
  std::vector<std::string> found;
  for (std::size_t at = yaml.find(" #"); at != std::string::npos; at = yaml.find(" #", at + 1))
    found.push_back(yaml.substr(at, yaml.find('\n', at) - at));
  return found;
}

std::string in_words(const std::vector<Edit>& edits) {
  std::string words;
  for (const Edit& edit : edits)
    words += words_of(edit) + "; ";
  return words;
}

/// Calls `use` with each finding of each site that comes with edits.
template <class Use>
void each_remedy(Use use) {
  for (const Written& site : all_sites()) {
    const Checked before = check_site(site.yaml, site.name);
    if (!before.mistakes.empty()) continue;
    for (const Finding& finding : before.report.findings)
      if (!finding.edits.empty()) use(site, before, finding);
  }
}

}  // namespace

TEST_CASE("remedies: made in the text, the finding is gone and nothing is worse") {
  each_remedy([](const Written& site, const Checked& before, const Finding& finding) {
    const auto changes = input::text_changes(site.yaml, *before.site, finding.edits);
    if (!changes) return;  // nothing is offered there
    const std::string text = input::changed(site.yaml, *changes);
    INFO(site.name << "\n"
                   << finding.rule << " at " << finding.element << ": " << finding.message << "\n"
                   << in_words(finding.edits) << "\n"
                   << text);
    const Checked after = check_site(text, site.name);
    CHECK(after.mistakes.empty());
    CHECK_FALSE(holds_still(after.report, finding));
    CHECK(harm(before.report, after.report, finding) == "");
    CHECK(remarks(text) == remarks(site.yaml));
  });
}

TEST_CASE("remedies: every rule that offers one offers it somewhere, and no other rule does") {
  std::set<std::string> made;
  std::map<std::string, std::string> refused;
  each_remedy([&](const Written& site, const Checked& before, const Finding& finding) {
    const auto changes = input::text_changes(site.yaml, *before.site, finding.edits);
    if (changes)
      made.insert(finding.rule);
    else
      refused[finding.rule] = site.name + ": " + changes.error().message;
  });
  CHECK(made == offering);
}

}  // namespace linewright::tests
