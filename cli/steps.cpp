#include <algorithm>

#include <fmt/core.h>

#include "cli/options.hpp"
#include "cli/output.hpp"

namespace linewright::cli {

int steps(const StepsCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, command.options.profile, command.color);
  if (!read.checked.site) return read.code;
  StepsOptions options = command.options;
  options.json = command.format == Format::json;
  const Result<StepsFound> found = steps_of_site(*read.checked.site, options);
  if (!found) {
    print_error(fmt::format("{}: {}\n", command.file, found.error().message));
    return unreadable;
  }
  print_out(found->text);
  const auto dangers =
      std::ranges::count(read.checked.report.findings, Severity::danger, &Finding::severity);
  if (dangers > 0)
    print_error(
        fmt::format("{}: the check finds {} danger{}: mend the site before you rely on "
                    "any order of switching\n",
                    command.file, dangers, dangers == 1 ? "" : "s"));
  return found->ready ? clean : findings_found;
}

}  // namespace linewright::cli
