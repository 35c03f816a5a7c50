#include "suggest.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "input/edits.hpp"

namespace linewright {
namespace {

bool same(const Finding& a, const Finding& b) {
  return a.rule == b.rule && a.element == b.element && a.message == b.message;
}

const Finding* find_same(const Report& report, const Finding& finding) {
  const auto found = std::ranges::find_if(
      report.findings, [&](const Finding& other) { return same(other, finding); });
  return found == report.findings.end() ? nullptr : &*found;
}

/// How many of these are about the same rule and element.
template <class T>
std::ptrdiff_t alike(const std::vector<T>& list, const T& one) {
  return std::ranges::count_if(list, [&](const T& other) {
    return other.rule == one.rule && other.element == one.element &&
           other.severity != Severity::advice;
  });
}

/// Those of the list that are new, beside others about the same rule and element.
template <class T>
std::vector<T> new_ones(const std::vector<T>& before, const std::vector<T>& after) {
  std::vector<T> found;
  for (const T& one : after)
    if (one.severity != Severity::advice && alike(after, one) > alike(before, one))
      found.push_back(one);
  return found;
}

/// What would be worse than before, in words; empty if nothing would.
std::string harm(const Checked& before, const Checked& after, const Finding& mended) {
  if (!after.mistakes.empty())
    return fmt::format("the file could not be read with it: {}", after.mistakes.front().message);
  const auto broken = new_ones(before.report.findings, after.report.findings);
  if (!broken.empty())
    return fmt::format("it would break {} at '{}'", broken.front().rule, broken.front().element);
  for (const OpenPoint& one : new_ones(before.report.open, after.report.open))
    if (one.rule == mended.rule) return fmt::format("it would leave open {}", one.message);
  return {};
}

/// Makes edits in a text step by step.
class Mender {
 public:
  Mender(std::string_view yaml, std::string_view file, const CheckOptions& options)
      : yaml_(yaml), file_(file), options_(options) {
    result_.before = check_site(yaml, file, options);
    result_.after = result_.before;
    result_.text = std::string(yaml);
  }

  Suggested run() {
    for (const Finding& finding : result_.before.report.findings)
      if (!finding.edits.empty()) result_.suggestions.push_back({finding, "not tried", {}});
    // What one edit alone cannot mend, it may mend once others are made.
    while (try_refused()) {
    }
    return std::move(result_);
  }

 private:
  /// Tries every edit that was not made; true if one of them was made now.
  bool try_refused() {
    bool any_made = false;
    for (Suggestion& suggestion : result_.suggestions) {
      if (suggestion.refused.empty()) continue;
      suggestion.refused = refused(suggestion.finding, suggestion.opened);
      any_made = any_made || suggestion.refused.empty();
    }
    return any_made;
  }

  /// Makes the edit of a finding; why not, if not.
  std::string refused(const Finding& finding, std::vector<OpenPoint>& opened) {
    const Finding* now = find_same(result_.after.report, finding);
    if (now == nullptr) return {};  // an edit made before has mended it too
    if (!result_.before.site || !result_.after.site) return "the file cannot be read again";
    const auto asked = input::text_changes(yaml_, *result_.before.site, finding.edits);
    if (!asked) return asked.error().message;
    std::vector<input::TextChange> all = made_;
    all.insert(all.end(), asked->begin(), asked->end());
    if (!input::in_order(all)) return "it touches words that another edit changes";
    const auto changes = input::text_changes(result_.text, *result_.after.site, now->edits);
    if (!changes) return changes.error().message;
    std::string text = input::changed(result_.text, *changes);
    Checked checked = check_site(text, file_, options_);
    if (std::string why = harm(result_.after, checked, finding); !why.empty()) return why;
    if (find_same(checked.report, finding) != nullptr) return "more than this edit is needed";
    opened = new_ones(result_.after.report.open, checked.report.open);
    made_ = std::move(all);
    result_.text = std::move(text);
    result_.after = std::move(checked);
    return {};
  }

  std::string_view yaml_;
  std::string_view file_;
  CheckOptions options_;
  std::vector<input::TextChange> made_;  ///< as changes of the text as given
  Suggested result_;
};

}  // namespace

Suggested suggest_edits(std::string_view yaml, std::string_view file, const CheckOptions& options) {
  return Mender(yaml, file, options).run();
}

}  // namespace linewright
