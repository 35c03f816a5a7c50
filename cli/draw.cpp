#include <algorithm>
#include <cstdlib>
#include <ctime>

#include <fmt/core.h>

#include "cli/drawn_files.hpp"
#include "cli/files.hpp"
#include "cli/material.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"

namespace linewright::cli {
namespace {

/// What the flag sheets are saved as, beside the clean ones.
std::string flags_stem(const DrawCommand& command) {
  return stem_of(command.file) + "-flags";
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
