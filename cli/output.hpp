// Printing for people and programs.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/options.hpp"
#include "findings/text.hpp"
#include "linewright.hpp"

namespace linewright::cli {

void print_out(std::string_view text);
void print_error(std::string_view text);

/// Whether a person reads the output as it comes.
bool on_terminal();

/// Colour as wished; automatic: only on a terminal, and never with NO_COLOR set.
findings::Color color_for(ColorWish wish);

/// Prints the mistakes of a file in words to the error stream; answers the exit code.
int report_mistakes(const std::string& file, const std::vector<Mistake>& mistakes,
                    std::string_view source, ColorWish color);

/// The exit code that a report asks for.
int code_for(const Report& report);

/// A file read and checked, or the exit code to end with after its mistakes were printed.
struct ReadAndChecked {
  int code = clean;
  std::string source;
  Checked checked;
};
ReadAndChecked read_and_check(const std::string& file, const std::string& profile, ColorWish color);

}  // namespace linewright::cli
