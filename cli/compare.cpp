#include "cli/compare.hpp"

#include <algorithm>

#include "cli/drawn_files.hpp"
#include "cli/files.hpp"
#include "cli/material.hpp"
#include "cli/output.hpp"
#include "compare_sites.hpp"

namespace linewright::cli {

int compare(const CompareCommand& command) {
  const DrawCommand& drawn = command.drawn;
  const ReadAndChecked before = read_and_check(command.old_file, drawn.profile, drawn.color);
  const ReadAndChecked after = read_and_check(drawn.file, drawn.profile, drawn.color);
  if (!before.checked.site || !after.checked.site) return std::max(before.code, after.code);
  DrawOptions options = options_of(drawn);
  if (!read_material_for(drawn.symbols, drawn.fonts, options.material)) return unreadable;
  const VersionGiven from{before.source, before.checked};
  const VersionGiven to{after.source, after.checked};
  const Result<Compared> compared = compare_sites(
      from, to, command.format == Format::json ? CompareFormat::json : CompareFormat::text);
  if (!compared) {
    print_error(compared.error().message + "\n");
    return unreadable;
  }
  print_out(compared->text);
  if (compared->same) return clean;
  if (drawn.folder.empty()) return findings_found;
  options.file_stem = stem_of(drawn.file) + "-changes";
  const int code = save(drawn, options.file_stem, draw_changes(from, to, options));
  return std::max<int>(code, findings_found);
}

}  // namespace linewright::cli
