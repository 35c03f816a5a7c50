// Where in the user's file something stands.
#pragma once

#include <compare>

namespace linewright {

/// A span of the user's file. Lines and columns count from 1 and columns count characters, not
/// bytes; line 0 means that the thing stands nowhere in the file (it was derived).
struct Place {
  int line = 0;
  int column = 0;
  int length = 1;  ///< characters to mark, at least 1

  bool known() const { return line > 0; }
  friend auto operator<=>(const Place&, const Place&) = default;
};

}  // namespace linewright
