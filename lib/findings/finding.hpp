// What can be said of a site: verdicts of rules, findings, open points, mistakes of the file.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "findings/place.hpp"

namespace linewright {

/// How much a broken rule can hurt: a life or a fire, a standard, or good practice.
enum class Severity { danger, breach, advice };

/// The four answers of a rule.
enum class Outcome { holds, broken, open, not_relevant };

/// A second place that belongs to a finding.
struct Note {
  Place where;
  std::string text;  ///< one clause, no full stop
};

/// One answer of one rule about one element, perhaps in one state.
struct Verdict {
  Outcome outcome = Outcome::not_relevant;
  Place where;
  std::string element;  ///< designation, or empty for the whole site
  std::string state;    ///< name of the operating state, or empty for every state
  std::string message;  ///< one clause that states; for open points: what could not be decided
  std::string mend;     ///< what to do about it
  std::string missing;  ///< open points only: the value that is missing, with its key
  std::vector<Note> notes;
  std::optional<Severity> severity;  ///< in place of the rule's own where the rule says so
};

/// The subject of a verdict: which element, in which state.
struct Subject {
  Place where;
  std::string element;
  std::string state;
};

inline Verdict holds(Subject of) {
  return {.outcome = Outcome::holds,
          .where = of.where,
          .element = std::move(of.element),
          .state = std::move(of.state)};
}

inline Verdict not_relevant(Subject of) {
  return {.outcome = Outcome::not_relevant,
          .where = of.where,
          .element = std::move(of.element),
          .state = std::move(of.state)};
}

inline Verdict broken(Subject of, std::string message, std::string mend) {
  return {.outcome = Outcome::broken,
          .where = of.where,
          .element = std::move(of.element),
          .state = std::move(of.state),
          .message = std::move(message),
          .mend = std::move(mend)};
}

/// `missing` names the value and the key of the site file that would supply it.
inline Verdict open(Subject of, std::string message, std::string missing) {
  return {.outcome = Outcome::open,
          .where = of.where,
          .element = std::move(of.element),
          .state = std::move(of.state),
          .message = std::move(message),
          .missing = std::move(missing)};
}

/// A rule broken at a place of the file.
struct Finding {
  std::string rule;
  Severity severity = Severity::breach;
  std::string element;
  std::string state;
  std::string message;
  std::string why;
  std::string remedy;
  std::vector<std::string> clauses;
  Place where;
  std::vector<Note> notes;
};

/// A rule that could not be decided, and the value that is missing.
struct OpenPoint {
  std::string rule;
  Severity severity = Severity::breach;  ///< of the rule, were it broken
  std::string element;
  std::string state;
  std::string message;
  std::string missing;
  Place where;
};

/// Something in the file that cannot be read or contradicts itself.
struct Mistake {
  Place where;
  std::string message;  ///< one clause that states
  std::string mend;     ///< what is expected there
  std::vector<Note> notes;
};

/// How the rules ended, counted by rule and not by verdict.
struct RuleCounts {
  int rules = 0;
  int hold = 0;
  int broken = 0;
  int open = 0;
  int not_relevant = 0;
};

/// Everything a check found in one file. Sorted by line, column, rule.
struct Report {
  std::string file;     ///< as the user named it
  std::string site;     ///< name of the site
  std::string profile;  ///< name of the profile used
  std::vector<Finding> findings;
  std::vector<OpenPoint> open;
  RuleCounts counts;
  std::vector<std::string> not_checked;  ///< what no rule looked at, in plain words
};

/// The sentence that ends every report and stands on every sheet.
inline constexpr const char* caution =
    "Advisory only: check against local codes; work only by licensed people; prove dead before "
    "touching.";

}  // namespace linewright
