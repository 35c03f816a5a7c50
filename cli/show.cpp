#include "cli/files.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "figures_of_site.hpp"
#include "input/read.hpp"

namespace linewright::cli {

int show(const ShowCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, command.profile, command.color);
  const auto& site = read.checked.site;
  if (!site) return read.code;
  const Result<std::string> text = command.what == Shown::expanded
                                       ? input::show_expanded(read.source)
                                       : describe_site(*site, {.profile = command.profile});
  if (!text) {
    print_error(text.error().message + "\n");
    return machine_failed;
  }
  print_out(*text);
  return clean;
}

int states(const StatesCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, {}, command.color);
  const auto& site = read.checked.site;
  if (!site) return read.code;
  const StatesFormat format = command.format == Format::csv    ? StatesFormat::csv
                              : command.format == Format::json ? StatesFormat::json
                                                               : StatesFormat::text;
  print_out(states_of_site(*site, format));
  return clean;
}

int figures(const FiguresCommand& command) {
  const ReadAndChecked read = read_and_check(command.file, {}, command.color);
  const auto& site = read.checked.site;
  if (!site) return read.code;
  const FiguresFormat format = command.format == Format::csv    ? FiguresFormat::csv
                               : command.format == Format::json ? FiguresFormat::json
                                                                : FiguresFormat::text;
  const Result<std::string> text =
      figures_of_site(*site, {.element = command.element, .format = format});
  if (!text) {
    print_error(command.file + ": " + text.error().message + "\n");
    return unreadable;
  }
  print_out(*text);
  return clean;
}

int schema() {
  print_out(input::schema());
  return clean;
}

}  // namespace linewright::cli
