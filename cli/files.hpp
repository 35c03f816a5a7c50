// Reading and writing files, so that a full disk or a signal leaves the old file whole.
#pragma once

#include <string>

#include "units/result.hpp"

namespace linewright::cli {

/// The whole text of a file. Fails, with the reason, if it cannot be read or is over the limit of
/// the reader; never reads more than that limit.
Result<std::string> read_file(const std::string& path);

/// Writes beside the file and renames, so that it is either the old one or the new one. A file that
/// is there keeps its mode; a link goes on pointing to the file.
Result<void> write_file(const std::string& path, const std::string& content);

/// Makes a folder and those above it.
Result<void> make_folder(const std::string& path);

/// "drawing" of "sites/drawing.yaml".
std::string stem_of(const std::string& path);

}  // namespace linewright::cli
