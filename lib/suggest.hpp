// Edits that mend findings, made in the user's text and tried out before they are offered.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linewright.hpp"

namespace linewright {

/// A finding that comes with an edit, and what became of it.
struct Suggestion {
  Finding finding;      ///< of the text as it was given
  std::string refused;  ///< why the edit was not made, in words; empty: the finding is gone
  std::vector<OpenPoint> opened;  ///< what the edit leaves open that nobody asked before
};

/// What can be mended in one file.
struct Suggested {
  Checked before;
  std::string text;  ///< the file with the edits made; all else byte for byte as it was
  Checked after;
  std::vector<Suggestion> suggestions;  ///< in the order of the findings
};

/// Makes one edit after the other, each tried out: the text must still read, the finding be gone,
/// not merely left open, and no danger or breach be new; else the edit is refused. Where two edits
/// touch the same words the first one is made.
Suggested suggest_edits(std::string_view yaml, std::string_view file,
                        const CheckOptions& options = {});

}  // namespace linewright
