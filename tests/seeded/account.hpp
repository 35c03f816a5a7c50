// What a check says of a site, in words that stay the same while names and places change.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "seeded/harmless_kinds.hpp"
#include "site/site.hpp"

namespace linewright::tests {

/// What was said, sorted; one line a finding, open point or question.
struct Account {
  std::vector<std::string> said;   ///< findings and open points
  std::vector<std::string> asked;  ///< questions for the site
  std::string rules;               ///< how many hold, are broken, open, and so on
  std::string mistake;             ///< the first mistake of the text, if it could not be read
};

/// The account of a report. Circuits go by the words of their user, everything else by its
/// designation, both as they were before they were renamed.
Account account_of(const site::Site& site, const Report& report, const Renamed& renamed);

/// Reads and checks a text.
Account account_of(const std::string& yaml, const Renamed& renamed);

/// Checks a site.
Account account_of(const site::Site& site);

}  // namespace linewright::tests
