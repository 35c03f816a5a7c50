// What changed between two versions of a site, in words.
#pragma once

#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "site/difference.hpp"

namespace linewright::documents {

/// Everything that changed, with the files' names as the user gave them.
struct Changes {
  std::string old_file;
  std::string new_file;
  std::vector<site::Change> changes;   ///< numbered in this order, from 1
  std::vector<Finding> new_findings;   ///< found in the new version only
  std::vector<Finding> gone_findings;  ///< found in the old version only
};

/// The differences of both versions and of what was found in them. Findings differ only where the
/// sites do: they speak of things by names that reading may have made up.
Changes changes_between(const site::Version& before, const Report& old_report,
                        const site::Version& after, const Report& new_report);

/// "-F51 Lights upstairs: cable changed: size 1.5 mm² → 2.5 mm²", without its number.
std::string change_words(const site::Change& change);

/// One numbered change a paragraph, each with its place; then findings that came and went.
std::string changes_text(const Changes& changes);
/// The same as one JSON object.
std::string changes_json(const Changes& changes);

}  // namespace linewright::documents
