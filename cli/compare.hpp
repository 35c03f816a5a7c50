// What changed between two site files.
#pragma once

#include <string>

#include "cli/options.hpp"

namespace linewright::cli {

struct CompareCommand {
  std::string old_file;
  DrawCommand drawn;  ///< the new file, and how to draw its changes; no folder: they are not drawn
  Format format = Format::text;
};

/// Prints what changed, and draws it if a folder is given. Exit code: 0 nothing, 1 something, 2 a
/// file cannot be read.
int compare(const CompareCommand& command);

}  // namespace linewright::cli
