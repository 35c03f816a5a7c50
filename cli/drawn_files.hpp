// Drawings as files: what they are made with, and where they go.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/options.hpp"
#include "linewright.hpp"

namespace linewright::cli {

/// The day that SOURCE_DATE_EPOCH names, or empty. The clock is never asked, so that the same
/// file draws the same bytes.
std::string source_date();

DrawOptions options_of(const DrawCommand& command);

/// Writes the files and prints the notices; why it cannot is printed as well.
std::optional<std::vector<std::string>> write_drawn(const std::string& folder,
                                                    const std::string& stem,
                                                    const Result<Drawn>& drawn);

/// Writes one set of sheets and names its files; answers the exit code.
int save(const DrawCommand& command, const std::string& stem, const Result<Drawn>& drawn);

}  // namespace linewright::cli
