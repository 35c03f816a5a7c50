// Reading and writing files, so that a full disk or a signal leaves the old file whole.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "units/result.hpp"

namespace linewright::cli {

/// The whole text of a file. Fails, with the reason, if it cannot be read or is over the limit of
/// the reader; never reads more than that limit.
Result<std::string> read_file(const std::string& path);

/// The same for a file that may hold up to `most` bytes; of a longer one no more than a byte
/// beyond.
Result<std::string> read_file(const std::string& path, std::size_t most);

/// Paths of the files of a folder that end in `ending`, sorted; no folder in it is entered. Fails
/// if there is no such folder, it cannot be read, or it holds more than `most` of them.
Result<std::vector<std::string>> files_of(const std::string& folder, const std::string& ending,
                                          std::size_t most);

/// Writes beside the file and renames, so that it is either the old one or the new one. A file that
/// is there keeps its mode; a link goes on pointing to the file.
Result<void> write_file(const std::string& path, const std::string& content);

/// Makes a folder and those above it.
Result<void> make_folder(const std::string& path);

/// "drawing" of "sites/drawing.yaml".
std::string stem_of(const std::string& path);

}  // namespace linewright::cli
