// What the drawing tests need from outside: commands, files, pictures.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "diagram/sheet.hpp"

namespace linewright::tests {

/// What a command wrote (both streams) and how it ended.
struct CommandOutcome {
  int exit = -1;
  std::string output;
};

/// Runs a shell command.
CommandOutcome run_command(const std::string& command);

/// The bytes of a file; the test fails when there is none.
std::string read_file(const std::string& path);

/// Writes bytes to a file of that name in the build's folder for tests; returns its path.
std::string write_scratch(std::string_view name, std::string_view bytes);

/// A grey picture, 0 black to 255 white, row by row.
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<int> grey;

  int at(int x, int y) const;
};

/// The picture in PNG bytes.
Picture read_png(const std::string& bytes);

/// A group with one line of text.
diagram::Group text_group(std::string text, diagram::Point at = {10.0, 20.0});

/// A document with one sheet that holds the group.
diagram::Document document_of(diagram::Group group);

}  // namespace linewright::tests
