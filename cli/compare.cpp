#include "cli/compare.hpp"

#include <algorithm>

#include "cli/output.hpp"
#include "compare_sites.hpp"

namespace linewright::cli {

int compare(const CompareCommand& command) {
  const ReadAndChecked before = read_and_check(command.old_file, command.profile, command.color);
  const ReadAndChecked after = read_and_check(command.new_file, command.profile, command.color);
  if (!before.checked.site || !after.checked.site) return std::max(before.code, after.code);
  const Result<Compared> compared =
      compare_sites({before.source, before.checked}, {after.source, after.checked},
                    command.format == Format::json ? CompareFormat::json : CompareFormat::text);
  if (!compared) {
    print_error(compared.error().message + "\n");
    return unreadable;
  }
  print_out(compared->text);
  return compared->same ? clean : findings_found;
}

}  // namespace linewright::cli
