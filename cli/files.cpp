#include "cli/files.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include "input/source_text.hpp"

namespace linewright::cli {
namespace {

struct Close {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, Close>;

std::string reason() {
  return std::strerror(errno);
}

/// The file that a link leads to; the path itself where there is none yet.
std::string without_links(const std::string& path) {
  std::error_code error;
  const auto real = std::filesystem::canonical(path, error);
  return error ? path : real.string();
}

/// Gives a new file the mode of the one it is to replace, if there is one.
bool keep_mode(const std::string& path, int file) {
  struct stat there{};
  if (::stat(path.c_str(), &there) != 0) return true;
  return ::fchmod(file, there.st_mode & 07777U) == 0;
}

}  // namespace

Result<std::string> read_file(const std::string& path) {
  return read_file(path, input::longest_file);
}

// One byte more than the reader takes, so that it is the reader that says "too large".
Result<std::string> read_file(const std::string& path, std::size_t most) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error))
    return fail(fmt::format("{}: cannot be read: it is a folder", path));
  const File file(std::fopen(path.c_str(), "rb"));
  if (!file) return fail(fmt::format("{}: cannot be read: {}", path, reason()));
  std::string text;
  std::array<char, 65536> part{};
  while (text.size() <= most) {
    const std::size_t got = std::fread(part.data(), 1, part.size(), file.get());
    text.append(part.data(), got);
    if (got < part.size()) break;
  }
  if (std::ferror(file.get()) != 0)
    return fail(fmt::format("{}: cannot be read: {}", path, reason()));
  return text;
}

Result<std::vector<std::string>> files_of(const std::string& folder, const std::string& ending,
                                          std::size_t most) {
  std::error_code error;
  std::filesystem::directory_iterator at(folder, error);
  std::vector<std::string> files;
  while (!error && at != std::filesystem::directory_iterator()) {
    if (at->path().extension() == ending) files.push_back(at->path().string());
    if (files.size() > most)
      return fail(fmt::format("{}: holds more than {} {} files", folder, most, ending));
    at.increment(error);
  }
  if (error) return fail(fmt::format("{}: cannot be read: {}", folder, error.message()));
  std::sort(files.begin(), files.end());
  return files;
}

Result<void> write_file(const std::string& path_as_given, const std::string& content) {
  const std::string path = without_links(path_as_given);
  const std::string beside = fmt::format("{}.{}.part", path, ::getpid());
  {
    File file(std::fopen(beside.c_str(), "wb"));
    if (!file) return fail(fmt::format("{}: cannot be written: {}", path, reason()));
    const bool written =
        keep_mode(path, ::fileno(file.get())) &&
        std::fwrite(content.data(), 1, content.size(), file.get()) == content.size() &&
        std::fflush(file.get()) == 0 && ::fsync(::fileno(file.get())) == 0;
    if (!written || std::fclose(file.release()) != 0) {
      const std::string why = reason();
      std::remove(beside.c_str());
      return fail(fmt::format("{}: cannot be written: {}", path, why));
    }
  }
  if (std::rename(beside.c_str(), path.c_str()) != 0) {
    const std::string why = reason();
    std::remove(beside.c_str());
    return fail(fmt::format("{}: cannot be written: {}", path, why));
  }
  return {};
}

Result<void> make_folder(const std::string& path) {
  std::error_code error;
  std::filesystem::create_directories(path, error);
  if (error) return fail(fmt::format("{}: cannot be made: {}", path, error.message()));
  return {};
}

std::string stem_of(const std::string& path) {
  return std::filesystem::path(path).stem().string();
}

}  // namespace linewright::cli
