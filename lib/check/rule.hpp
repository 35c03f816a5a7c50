// What a rule is.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "check/analysed_site.hpp"
#include "findings/finding.hpp"

namespace linewright::check {

/// One requirement: what must hold, why, where it is written, and how it is decided. A rule never
/// prints, never reads YAML, never asks which country it is in, and calls no other rule.
struct Rule {
  std::string_view id;  ///< family and file name in plain words: "earthing/one-bond-per-state"
  Severity severity = Severity::breach;
  std::string_view must_hold;  ///< one sentence
  std::string_view why;        ///< what happens to people and things otherwise
  std::vector<std::string_view> clauses;
  Confirmation confirmation = Confirmation::memory;  ///< how well the requirement is confirmed
  std::vector<std::string_view> profile_keys;        ///< national values it uses
  /// Rules that tell the same by its cause: while one of them has a finding, this one keeps silent.
  std::vector<std::string_view> yields_to;
  std::string_view example;  ///< the smallest site file that breaks it; run by a test
  std::vector<Verdict> (*check)(const AnalysedSite& site) = nullptr;
};

}  // namespace linewright::check
