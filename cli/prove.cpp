#include "cli/files.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"

namespace linewright::cli {

int prove(const ProveCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, command.profile, command.color);
  if (!read.checked.site) return read.code;
  const Result<Proved> proved =
      prove_site(*read.checked.site, {.profile = command.profile,
                                      .json = command.format == Format::json,
                                      .single_failure = command.single_failure});
  if (!proved) {
    print_error(proved.error().message + "\n");
    return machine_failed;
  }
  print_out(proved->text);
  return proved->safe ? clean : findings_found;
}

}  // namespace linewright::cli
