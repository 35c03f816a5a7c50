// What changed between two site files.
#pragma once

#include <string>

#include "cli/options.hpp"

namespace linewright::cli {

struct CompareCommand {
  std::string old_file;
  std::string new_file;
  std::string profile;
  Format format = Format::text;
  ColorWish color = ColorWish::automatic;
};

/// Prints what changed. Exit code: 0 nothing, 1 something, 2 a file cannot be read.
int compare(const CompareCommand& command);

}  // namespace linewright::cli
