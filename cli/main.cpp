// The command `linewright`: arguments in, exit code out.
#include <cstdio>
#include <exception>
#include <map>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include "cli/options.hpp"
#include "linewright.hpp"

namespace {

using namespace linewright::cli;

const std::map<std::string, ColorWish> colors{
    {"auto", ColorWish::automatic}, {"always", ColorWish::always}, {"never", ColorWish::never}};
const std::map<std::string, Format> formats{
    {"text", Format::text}, {"json", Format::json}, {"sarif", Format::sarif}};
const std::map<std::string, Format> plain_formats{{"text", Format::text}, {"json", Format::json}};

template <class T>
void add_choice(CLI::App& app, const char* name, T& into, const std::map<std::string, T>& choices,
                const char* help) {
  std::vector<std::string> words;
  for (const auto& [word, value] : choices)
    words.push_back(word);
  app.add_option_function<std::string>(
         name, [&into, &choices](const std::string& word) { into = choices.at(word); }, help)
      ->check(CLI::IsMember(words))
      ->type_name("WORD");
}

void add_profile(CLI::App& app, std::string& into) {
  app.add_option("--profile", into, "National rules, in place of the file's own")
      ->check(CLI::IsMember(linewright::profile_names()))
      ->type_name("NAME");
}

void add_quiet(CLI::App& app, Loudness& into) {
  app.add_flag_callback(
      "--quiet,-q", [&into] { into = Loudness::quiet; },
      "One line a finding; open points only where they may be a danger");
}

int run(int argc, char** argv) {
  CLI::App app{
      "Linewright reads one YAML file that describes a building's supply, transfer panel,\n"
      "inverters, batteries, generator and circuits; checks that it is safe in every state it\n"
      "can run in; and draws it.\n\n"
      "It advises, it does not certify: check against local codes, work by licensed people,\n"
      "prove dead before touching."};
  app.set_version_flag("--version", "linewright " LINEWRIGHT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Examples:\n"
      "  linewright check house.yaml                what is wrong, and how to mend it\n"
      "  linewright draw house.yaml -o drawings     the permit drawing as PDF and SVG\n"
      "  linewright show --expanded house.yaml      the panel's interior, to copy and edit\n"
      "  linewright explain rcd/selectivity         why a rule is there\n\n"
      "Exit code: 0 clean, 1 danger or breach found, 2 the file cannot be read, 3 the machine "
      "failed.");
  int code = clean;

  CheckCommand check_command;
  auto* check_app = app.add_subcommand("check", "Check site files against the rules");
  check_app->add_option("FILE", check_command.files, "Site files")->required();
  add_choice(*check_app, "--format", check_command.format, formats, "How to print (text)");
  add_profile(*check_app, check_command.profile);
  add_choice(*check_app, "--color", check_command.color, colors, "Colours (auto)");
  add_quiet(*check_app, check_command.loudness);
  check_app->footer("Example:\n  linewright check --profile GB house.yaml");
  check_app->callback([&] { code = check(check_command); });

  DrawCommand draw_command;
  auto* draw_app = app.add_subcommand("draw", "Draw a site as PDF and SVG");
  draw_app->add_option("FILE", draw_command.file, "Site file")->required();
  draw_app->add_option("-o,--output", draw_command.folder, "Folder for the drawings")
      ->type_name("DIR")
      ->required();
  double dots_per_inch = 0.0;
  auto* png = draw_app->add_option("--png", dots_per_inch, "Also pictures, dots an inch")
                  ->check(CLI::Range(36.0, 600.0))
                  ->type_name("DPI");
  add_profile(*draw_app, draw_command.profile);
  add_choice(*draw_app, "--color", draw_command.color, colors, "Colours (auto)");
  add_quiet(*draw_app, draw_command.loudness);
  draw_app->footer("Example:\n  linewright draw house.yaml -o drawings --png 200");
  draw_app->callback([&] {
    if (png->count() > 0) draw_command.dots_per_inch = dots_per_inch;
    code = draw(draw_command);
  });

  ShowCommand show_command;
  auto* show_app = app.add_subcommand("show", "Say what was read from a site file");
  show_app->add_option("FILE", show_command.file, "Site file")->required();
  show_app->add_flag_callback(
      "--expanded", [&] { show_command.what = Shown::expanded; },
      "Print the file with ready-made interiors and types written out");
  add_profile(*show_app, show_command.profile);
  add_choice(*show_app, "--color", show_command.color, colors, "Colours (auto)");
  show_app->footer("Example:\n  linewright show --expanded house.yaml > house-explicit.yaml");
  show_app->callback([&] { code = show(show_command); });

  auto* schema_app = app.add_subcommand("schema", "Print the JSON Schema of the site file");
  schema_app->footer("Example:\n  linewright schema > site-file.schema.json");
  schema_app->callback([&] { code = schema(); });

  ExplainCommand explain_command;
  auto* explain_app = app.add_subcommand("explain", "Explain a rule, or list all of them");
  explain_app->add_option("RULE", explain_command.rule, "Rule, as a finding names it");
  add_choice(*explain_app, "--format", explain_command.format, plain_formats,
             "How to print (text)");
  explain_app->footer("Example:\n  linewright explain earthing/bond-present-when-islanded");
  explain_app->callback([&] { code = explain(explain_command); });

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? clean : unreadable;
  }
  return code;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    const int code = run(argc, argv);
    if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
    std::fputs("linewright: the output cannot be written\n", stderr);
  } catch (const std::exception& error) {
    std::fputs(fmt::format("linewright: {}\n", error.what()).c_str(), stderr);
  }
  return machine_failed;
}
