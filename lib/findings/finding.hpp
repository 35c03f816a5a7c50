// What can be said of a site: verdicts of rules, findings, open points, mistakes of the file.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "findings/edit.hpp"
#include "findings/place.hpp"

namespace linewright {

/// How much a broken rule can hurt: a life or a fire, a standard, or good practice.
enum class Severity { danger, breach, advice };

/// The answers of a rule. `to_confirm`: neither kept nor broken, as only someone on site can tell.
enum class Outcome { holds, broken, open, not_relevant, to_confirm };

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
  std::string message;  ///< one clause that states; for open points: what could not be decided;
                        ///< to confirm: the question
  std::string mend;     ///< what to do about it
  std::string missing;  ///< open points only: the value that is missing, with its key
  std::vector<Note> notes;
  std::optional<Severity> severity;  ///< in place of the rule's own where the rule says so
  std::string expected;              ///< to confirm only: the answer or reading that is right
  std::vector<Edit> edits;           ///< broken ones only: what would mend it; may be empty
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

/// What only someone on site can establish. `question` is one clause that asks, without question
/// mark; `expected` is the answer or reading that is right: "30 ms or less at 5 × 30 mA".
inline Verdict asks(Subject about, std::string question, std::string expected) {
  return {.outcome = Outcome::to_confirm,
          .where = about.where,
          .element = std::move(about.element),
          .state = std::move(about.state),
          .message = std::move(question),
          .expected = std::move(expected)};
}

/// The same verdict with the changes that would mend it, all of them together. Give them only
/// where there is a single right remedy, after which this rule holds.
inline Verdict mended_by(Verdict verdict, std::vector<Edit> edits) {
  verdict.edits = std::move(edits);
  return verdict;
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
  std::vector<Edit> edits;  ///< what would mend it, all of them together; may be empty
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

/// What someone has to look at or measure on site before a rule can be called kept.
struct Question {
  std::string rule;
  Severity severity = Severity::breach;  ///< of the rule, were the answer another one
  std::string element;
  std::string state;
  std::string question;
  std::string expected;
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
  int to_confirm = 0;
};

/// Everything a check found in one file. Sorted by line, column, rule.
struct Report {
  std::string file;     ///< as the user named it
  std::string site;     ///< name of the site
  std::string profile;  ///< name of the profile used
  std::vector<Finding> findings;
  std::vector<OpenPoint> open;
  std::vector<Question> questions;
  RuleCounts counts;
  std::vector<std::string> not_checked;  ///< what no rule looked at, in plain words
};

/// The sentence that ends every report and stands on every sheet.
inline constexpr const char* caution =
    "Advisory only: check against local codes; work only by licensed people; prove dead before "
    "touching.";

}  // namespace linewright
