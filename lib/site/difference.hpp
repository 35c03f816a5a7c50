// The difference of two sites, thing by thing; how the files are laid out makes none.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/place.hpp"
#include "site/match.hpp"
#include "site/properties.hpp"

namespace linewright::site {

enum class ChangeKind { added, removed, changed };

/// A property that differs; empty: not said.
struct ChangedProperty {
  std::string name;
  std::string before;
  std::string after;
  friend bool operator==(const ChangedProperty&, const ChangedProperty&) = default;
};

/// One thing that differs.
struct Change {
  ChangeKind kind = ChangeKind::changed;
  std::string thing;  ///< "breaker", "cable", "state", "board": what it is
  std::string name;   ///< what it is called, in the new file if it is there; may be empty
  std::string words;  ///< the user's name for it; may be empty
  /// Designation of the element that it is told with; empty if it stands for itself.
  std::string part_of;
  std::string part_of_thing;  ///< what that element is
  Place before;               ///< in the old file; unknown if it is not there
  Place after;                ///< in the new file; unknown if it is not there
  /// Designations in the new site of what it is drawn as; empty if it is not drawn.
  std::vector<std::string> drawn_as;
  /// Changed: what differs. Added and removed: all that is said, one side empty.
  std::vector<ChangedProperty> properties;
};

/// Everything that differs; the cable and the load of a circuit are told with its device. First
/// what is in the new site, as its file has it, then what is only in the old one. Sites that say
/// the same in another order have no difference.
std::vector<Change> difference(const Version& before, const Version& after);

}  // namespace linewright::site
