#include <algorithm>
#include <cstdlib>
#include <ctime>

#include <fmt/core.h>

#include "cli/files.hpp"
#include "cli/material.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"

namespace linewright::cli {
namespace {

/// The day that SOURCE_DATE_EPOCH names, or empty. The clock is never asked, so that the same
/// file draws the same bytes.
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

/// What the flag sheets are saved as, beside the clean ones.
std::string flags_stem(const DrawCommand& command) {
  return stem_of(command.file) + "-flags";
}

Result<std::vector<std::string>> write_all(const std::string& in_folder, const std::string& stem,
                                           const Drawn& drawn) {
  std::vector<std::pair<std::string, const std::string*>> files{
      {fmt::format("{}/{}.pdf", in_folder, stem), &drawn.pdf}};
  for (const DrawnSheet& sheet : drawn.sheets) {
    const std::string base = fmt::format("{}/{}-{}", in_folder, stem, sheet.name);
    files.emplace_back(base + ".svg", &sheet.svg);
    if (!sheet.png.empty()) files.emplace_back(base + ".png", &sheet.png);
  }
  std::vector<std::string> written;
  for (const auto& [path, content] : files) {
    const Result<void> done = write_file(path, *content);
    if (!done) return fail(done.error().message);
    written.push_back(path);
  }
  return written;
}

// Writes the files and prints the notices; why it cannot is printed as well.
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

DrawOptions options_of(const DrawCommand& command) {
  return {.profile = command.profile,
          .date = source_date(),
          .dots_per_inch = command.dots_per_inch,
          .file_stem = stem_of(command.file),
          .states = command.states ? StatePictures::drawn : StatePictures::left_out,
          .paper = command.paper,
          .colours = command.monochrome ? InkColours::black_only : InkColours::several,
          .turn = command.turn};
}

int print_checklist(const DrawCommand& command, const site::Site& site, const Report& report,
                    const DrawOptions& options) {
  const Result<ChecklistFound> found = checklist_of_site(
      site, report, options,
      command.format == Format::json ? ChecklistFormat::json : ChecklistFormat::text);
  if (!found) {
    print_error(found.error().message + "\n");
    return machine_failed;
  }
  print_out(found->text);
  return found->complete ? clean : findings_found;
}

/// Writes one set of sheets; answers the exit code.
int save(const DrawCommand& command, const std::string& stem, const Result<Drawn>& drawn) {
  const auto written = write_drawn(command.folder, stem, drawn);
  if (!written) return machine_failed;
  if (command.loudness == Loudness::usual)
    for (const std::string& path : *written)
      print_out(path + "\n");
  return clean;
}

int write_drawings(const DrawCommand& command, const Checked& checked, DrawOptions options) {
  const Result<Drawn> drawn = draw_site(checked, options);
  int code = save(command, options.file_stem, drawn);
  if (code == clean && command.flags) {
    options.file_stem = flags_stem(command);
    code = save(command, options.file_stem, flags_of_site(*checked.site, checked.report, options));
  }
  if (code != clean) return code;
  code = code_for(checked.report);
  if (code != clean) {
    print_error(fmt::format("{}: drawn, but not ready to hand in: run 'linewright check {}'\n",
                            command.file, command.file));
  } else if (drawn->unreadable_texts > 0) {
    print_error(fmt::format("{}: drawn, but not ready to hand in: not all of it can be read\n",
                            command.file));
  }
  return drawn->unreadable_texts > 0 ? std::max<int>(code, findings_found) : code;
}

}  // namespace

int draw(const DrawCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, command.profile, command.color);
  if (!read.checked.site) return read.code;
  DrawOptions options = options_of(command);
  if (!read_material_for(command.symbols, command.fonts, options.material)) return unreadable;
  int code = clean;
  if (command.checklist)
    code = print_checklist(command, *read.checked.site, read.checked.report, options);
  if (code == machine_failed || command.folder.empty()) return code;
  return std::max(code, write_drawings(command, read.checked, options));
}

int symbols(const SymbolsCommand& command) {
  DrawOptions options{
      .date = source_date(), .dots_per_inch = command.dots_per_inch, .file_stem = "symbols"};
  if (!read_material_for(command.symbols, command.fonts, options.material)) return unreadable;
  const Result<Drawn> drawn = draw_symbols(options);
  const auto written = write_drawn(command.folder, options.file_stem, drawn);
  if (!written) return machine_failed;
  for (const std::string& path : *written)
    print_out(path + "\n");
  return drawn->unreadable_texts > 0 ? findings_found : clean;
}

}  // namespace linewright::cli
