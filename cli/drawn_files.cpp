#include "cli/drawn_files.hpp"

#include <cstdlib>
#include <ctime>
#include <functional>
#include <utility>

#include <fmt/core.h>

#include "cli/files.hpp"
#include "cli/output.hpp"
#include "cli/together.hpp"

namespace linewright::cli {
namespace {

Result<std::vector<std::string>> write_all(const std::string& in_folder, const std::string& stem,
                                           const Drawn& drawn) {
  std::vector<std::pair<std::string, const std::string*>> files{
      {fmt::format("{}/{}.pdf", in_folder, stem), &drawn.pdf}};
  for (const DrawnSheet& sheet : drawn.sheets) {
    const std::string base = fmt::format("{}/{}-{}", in_folder, stem, sheet.name);
    files.emplace_back(base + ".svg", &sheet.svg);
    if (!sheet.png.empty()) files.emplace_back(base + ".png", &sheet.png);
  }
  // A file is waited for until it is on the disk, so several are written at a time.
  constexpr unsigned waiting = 8;
  std::vector<Result<void>> done(files.size());
  std::vector<std::function<void()>> work;
  for (std::size_t i = 0; i < files.size(); ++i)
    work.emplace_back(
        [&files, &done, i] { done[i] = write_file(files[i].first, *files[i].second); });
  do_together(work, waiting);
  std::vector<std::string> written;
  for (std::size_t i = 0; i < files.size(); ++i) {
    if (!done[i]) return fail(done[i].error().message);
    written.push_back(files[i].first);
  }
  return written;
}

}  // namespace

std::string source_date() {
  const char* seconds = std::getenv("SOURCE_DATE_EPOCH");
  if (seconds == nullptr) return {};
  char* end = nullptr;
  const long long since_1970 = std::strtoll(seconds, &end, 10);
  if (end == seconds || *end != '\0' || since_1970 < 0) return {};
  const auto time = static_cast<std::time_t>(since_1970);
  std::tm day{};
  if (::gmtime_r(&time, &day) == nullptr) return {};
  return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

DrawOptions options_of(const DrawCommand& command) {
  return {.profile = command.profile,
          .date = source_date(),
          .dots_per_inch = command.dots_per_inch,
          .file_stem = stem_of(command.file),
          .states = command.states ? StatePictures::drawn : StatePictures::left_out,
          .paper = command.paper,
          .colours = command.monochrome ? InkColours::black_only : InkColours::several,
          .turn = command.turn,
          .do_all = [](const auto& work) { do_together(work, workers_for_computing()); }};
}

std::optional<std::vector<std::string>> write_drawn(const std::string& folder,
                                                    const std::string& stem,
                                                    const Result<Drawn>& drawn) {
  const Result<void> made = drawn ? make_folder(folder) : fail(drawn.error().message);
  auto written = made ? write_all(folder, stem, *drawn) : fail(made.error().message);
  if (!written) {
    print_error(written.error().message + "\n");
    return {};
  }
  for (const std::string& notice : drawn->notices)
    print_error(notice + "\n");
  return *std::move(written);
}

int save(const DrawCommand& command, const std::string& stem, const Result<Drawn>& drawn) {
  const auto written = write_drawn(command.folder, stem, drawn);
  if (!written) return machine_failed;
  if (command.loudness == Loudness::usual)
    for (const std::string& path : *written)
      print_out(path + "\n");
  return clean;
}

}  // namespace linewright::cli
