#include <algorithm>

#include "cli/files.hpp"
#include "cli/options.hpp"
#include "cli/output.hpp"
#include "findings/json.hpp"
#include "findings/sarif.hpp"
#include "findings/text.hpp"
#include "rules/registry.hpp"

namespace linewright::cli {
namespace {

constexpr std::string_view version = LINEWRIGHT_VERSION;

/// One file as far as it came.
struct Done {
  std::string file;
  std::string source;
  std::optional<std::string> failure;
  Checked checked;

  int code() const {
    if (failure || !checked.mistakes.empty()) return unreadable;
    return code_for(checked.report);
  }
};

Done check_one(const CheckCommand& command, const std::string& file) {
  Done done{.file = file, .source = {}, .failure = {}, .checked = {}};
  Result<std::string> text = read_file(file);
  if (!text) {
    done.failure = text.error().message;
    return done;
  }
  done.source = std::move(*text);
  done.checked =
      check_site(done.source, file,
                 {.profile = command.profile, .sum_up_positions = command.format == Format::text});
  return done;
}

void print_text(const CheckCommand& command, const Done& done) {
  const findings::TextStyle style{.color = color_for(command.color),
                                  .detail = command.loudness == Loudness::quiet
                                                ? findings::Detail::brief
                                                : findings::Detail::full};
  if (done.failure) return print_error(*done.failure + "\n");
  if (!done.checked.mistakes.empty())
    return print_error(
        findings::mistakes_text(done.file, done.checked.mistakes, done.source, style));
  print_out(
      command.printed == Printed::questions
          ? findings::questions_text(done.checked.report, style)
          : findings::report_text(done.checked.report, done.source, style, done.checked.positions));
  if (!command.single_failure || !done.checked.site) return;
  const Result<std::string> failures = single_failures_of_site(*done.checked.site, command.profile);
  if (failures) print_out(*failures);
}

/// A file that cannot be opened is a mistake at no place, for programs that read the output.
std::vector<Mistake> mistakes_of(const Done& done) {
  if (done.failure)
    return {
        {.where = {}, .message = *done.failure, .mend = "name a file that exists", .notes = {}}};
  return done.checked.mistakes;
}

std::string json_of(const Done& done) {
  const auto mistakes = mistakes_of(done);
  return mistakes.empty() ? findings::report_json(done.checked.report, version)
                          : findings::mistakes_json(done.file, mistakes, version);
}

void print_json(const std::vector<Done>& all) {
  if (all.size() == 1) return print_out(json_of(all.front()));
  print_out("[\n");
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (i > 0) print_out(",\n");
    print_out(json_of(all[i]));
  }
  print_out("]\n");
}

void print_sarif(const std::vector<Done>& all) {
  std::vector<Report> reports;
  for (const Done& done : all) {
    const auto mistakes = mistakes_of(done);
    if (!mistakes.empty()) return print_out(findings::mistakes_sarif(done.file, mistakes, version));
    reports.push_back(done.checked.report);
  }
  std::vector<findings::RuleText> rules;
  for (const check::Rule* rule : rules::all_rules())
    rules.push_back({std::string(rule->id), rule->severity, std::string(rule->must_hold),
                     std::string(rule->why)});
  print_out(findings::reports_sarif(reports, rules, version));
}

}  // namespace

int check(const CheckCommand& command) {
  if (command.single_failure && command.format != Format::text) {
    print_error("single failures as data: linewright prove --single-failure --format json FILE\n");
    return unreadable;
  }
  std::vector<Done> all;
  int code = clean;
  for (const std::string& file : command.files) {
    all.push_back(check_one(command, file));
    code = std::max(code, all.back().code());
    if (command.format != Format::text) continue;
    print_text(command, all.back());
    all.clear();
  }
  if (command.format == Format::json) print_json(all);
  if (command.format == Format::sarif) print_sarif(all);
  return code;
}

}  // namespace linewright::cli
