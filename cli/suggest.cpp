// Edits that mend findings: shown as a diff, or written into the file.
#include "suggest.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "cli/files.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "findings/diff.hpp"
#include "findings/utf8.hpp"

namespace linewright::cli {
namespace {

/// "house.yaml:12:5".
std::string where(const std::string& file, const Place& place) {
  return place.known() ? fmt::format("{}:{}:{}", file, place.line, place.column) : file;
}

/// One line a finding that comes with an edit: mended by what, or left for which reason.
void print_list(const std::string& file, const Suggested& done) {
  for (const Suggestion& each : done.suggestions) {
    std::string edits;
    for (const Edit& edit : each.finding.edits)
      edits += (edits.empty() ? "" : "; ") + words_of(edit);
    const std::string what = each.refused.empty()
                                 ? fmt::format("mended by {}", edits)
                                 : fmt::format("not mended: {} ({})", each.refused, edits);
    print_out(fmt::format("{}: {} [{}]\n  {}\n", where(file, each.finding.where),
                          findings::shown_safely(each.finding.message), each.finding.rule,
                          findings::shown_safely(what)));
    for (const OpenPoint& open : each.opened)
      print_out(fmt::format("  then open: {}; needs {} [{}]\n",
                            findings::shown_safely(open.message),
                            findings::shown_safely(open.missing), open.rule));
  }
}

std::size_t made(const Suggested& done) {
  return static_cast<std::size_t>(std::ranges::count_if(
      done.suggestions, [](const Suggestion& s) { return s.refused.empty(); }));
}

/// A terminal gets no characters that could upset it; a file or a program gets the bytes.
void print_diff(const std::string& diff) {
  if (!on_terminal()) return print_out(diff);
  for (std::size_t at = 0; at < diff.size();) {
    const std::size_t end = std::min(diff.find('\n', at), diff.size());
    print_out(findings::shown_safely(diff.substr(at, end - at)) + "\n");
    at = end + 1;
  }
}

int failed(const std::string& message, ExitCode code) {
  print_error(message + "\n");
  return code;
}

int write(const std::string& file, const std::string& source, const Suggested& done) {
  if (made(done) == 0) {
    print_out(fmt::format("{}: nothing written\n", file));
    return code_for(done.before.report);
  }
  const Result<std::string> now = read_file(file);
  if (!now || *now != source)
    return failed(fmt::format("{}: changed in the meantime; nothing written", file),
                  machine_failed);
  if (const auto written = write_file(file, done.text); !written)
    return failed(written.error().message, machine_failed);
  print_out(fmt::format("{}: {} mended in the file; check again, and look at what was written\n",
                        file,
                        made(done) == 1 ? "1 finding" : fmt::format("{} findings", made(done))));
  return code_for(done.after.report);
}

int suggest_one(const CheckCommand& command, const std::string& file) {
  const Result<std::string> source = read_file(file);
  if (!source) return failed(source.error().message, unreadable);
  const Suggested done = suggest_edits(*source, file, {.profile = command.profile});
  if (!done.before.mistakes.empty())
    return report_mistakes(file, done.before.mistakes, *source, command.color);
  print_list(file, done);
  if (done.suggestions.empty()) print_out(fmt::format("{}: no finding comes with an edit\n", file));
  if (command.edits == Edits::written) return write(file, *source, done);
  print_diff(findings::unified_diff(file, *source, done.text));
  return code_for(done.before.report);
}

}  // namespace

int suggest(const CheckCommand& command) {
  int code = clean;
  for (const std::string& file : command.files)
    code = std::max(code, suggest_one(command, file));
  print_out(fmt::format("{}\n", caution));
  return code;
}

}  // namespace linewright::cli
