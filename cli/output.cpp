#include "cli/output.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include <unistd.h>

#include "cli/files.hpp"

namespace linewright::cli {

void print_out(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stdout);
}

void print_error(std::string_view text) {
  std::fflush(stdout);
  std::fwrite(text.data(), 1, text.size(), stderr);
}

bool on_terminal() {
  return ::isatty(STDOUT_FILENO) != 0;
}

findings::Color color_for(ColorWish wish) {
  if (wish == ColorWish::always) return findings::Color::on;
  if (wish == ColorWish::never) return findings::Color::off;
  const char* no_color = std::getenv("NO_COLOR");
  const bool refused = no_color != nullptr && *no_color != '\0';
  return !refused && on_terminal() ? findings::Color::on : findings::Color::off;
}

int report_mistakes(const std::string& file, const std::vector<Mistake>& mistakes,
                    std::string_view source, ColorWish color) {
  print_error(
      findings::mistakes_text(file, mistakes, source, {.color = color_for(color), .detail = {}}));
  return unreadable;
}

int code_for(const Report& report) {
  const bool found = std::ranges::any_of(
      report.findings, [](const Finding& f) { return f.severity != Severity::advice; });
  return found ? findings_found : clean;
}

ReadAndChecked read_and_check(const std::string& file, const std::string& profile,
                              ColorWish color) {
  ReadAndChecked result;
  const Result<std::string> text = read_file(file);
  if (!text) {
    print_error(text.error().message + "\n");
    result.code = unreadable;
    return result;
  }
  result.source = *text;
  result.checked = check_site(result.source, file, {.profile = profile});
  if (!result.checked.mistakes.empty())
    result.code = report_mistakes(file, result.checked.mistakes, result.source, color);
  return result;
}

}  // namespace linewright::cli
