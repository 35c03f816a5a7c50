// Asks rules about sites that a test writes as YAML, and sorts what they say.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <catch2/catch.hpp>

#include "check/rule.hpp"
#include "findings/finding.hpp"

namespace linewright::tests {

/// What one rule says of a site. The profile is the one named, else the file's own, else the
/// international one. Fails the test if the file has mistakes or there is no such profile.
std::vector<Verdict> verdicts(const check::Rule& rule, std::string_view yaml,
                              std::string_view profile = {});

/// What all rules say of a site.
Report report_on(std::string_view yaml, std::string_view profile = {});

/// The text with its first `find` replaced, so that a test shows only what it changes. Fails the
/// test if it is not there.
std::string with(std::string_view yaml, std::string_view find, std::string_view put);

/// Those with that outcome, in order.
std::vector<Verdict> those(const std::vector<Verdict>& all, Outcome outcome);
inline std::vector<Verdict> broken_ones(const std::vector<Verdict>& all) {
  return those(all, Outcome::broken);
}
inline std::vector<Verdict> open_ones(const std::vector<Verdict>& all) {
  return those(all, Outcome::open);
}

inline std::vector<Verdict> questions_of(const std::vector<Verdict>& all) {
  return those(all, Outcome::to_confirm);
}

/// The rule looked, and found nothing wrong and nothing missing: at least one verdict holds, none
/// is broken or open.
bool sound(const std::vector<Verdict>& all);

/// The rule does not apply: every verdict, if there is any, is not relevant.
bool silent(const std::vector<Verdict>& all);

/// Whether the rule says that of the element (designation, or empty for the whole site), in that
/// state if one is given.
bool says(const std::vector<Verdict>& all, Outcome outcome, std::string_view element,
          std::string_view state = {});

/// Names of the states with that outcome, each once, in order, a space between: "grid island".
std::string states_with(const std::vector<Verdict>& all, Outcome outcome);

/// Rules with a finding of danger or breach, each once, sorted, a space between.
std::string rules_broken(const Report& report);

}  // namespace linewright::tests

namespace Catch {

/// Shows a verdict where a test fails.
template <>
struct StringMaker<linewright::Verdict> {
  static std::string convert(const linewright::Verdict& verdict);
};

}  // namespace Catch
