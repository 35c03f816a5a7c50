// The list of seeded mistakes that no rule finds, each with the reason: not_found.csv.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace linewright::tests {

/// One line of the list.
struct NotFound {
  std::string sample;
  std::string kind;
  std::string place;
  std::string verdict;  ///< "harmless": nothing is worse there; "missed": it ought to be found;
                        ///< "waiting": for a rule that is not there yet
  std::string reason;   ///< of what is waiting: begins with the id of the rule
};

/// The whole list. Lines that cannot be read fail the test.
std::vector<NotFound> list_of_not_found();

/// Whether it waits for a rule that is really not there.
bool waits(const NotFound& line);

/// Takes lines of that sample off the list that are found by now; each as "kind;place".
void take_off(std::string_view sample, const std::set<std::string>& found);

}  // namespace linewright::tests
