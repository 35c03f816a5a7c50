// Two versions of one site held against each other. Part of the library's public face.
#pragma once

#include <string>
#include <string_view>

#include "linewright.hpp"

namespace linewright {

/// One version: its text, and what came of checking it.
struct VersionGiven {
  std::string_view yaml;
  const Checked& checked;
};

enum class CompareFormat { text, json };

/// What changed in words, and whether nothing did.
struct Compared {
  std::string text;
  bool same = false;
};

/// Every difference of what two files say, and what the check finds in one of them only. How a file
/// is laid out and ordered makes no difference. Fails if a version has mistakes.
Result<Compared> compare_sites(const VersionGiven& before, const VersionGiven& after,
                               CompareFormat format);

/// The new version's sheets with a numbered revision cloud round everything that changed, and a
/// table of the changes with the numbers of `compare_sites`. Fails if a version has mistakes, or
/// nothing differs.
Result<Drawn> draw_changes(const VersionGiven& before, const VersionGiven& after,
                           const DrawOptions& options);

}  // namespace linewright
