// The command `linewright`: arguments in, exit code out.
#include <cstdio>
#include <exception>
#include <map>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include "cli/compare.hpp"
#include "cli/options.hpp"
#include "linewright.hpp"

namespace {

using namespace linewright::cli;
using linewright::StepsOptions;
using linewright::site::PaperSize;
using linewright::site::PaperTurn;

const std::map<std::string, ColorWish> colors{
    {"auto", ColorWish::automatic}, {"always", ColorWish::always}, {"never", ColorWish::never}};
const std::map<std::string, Format> formats{
    {"text", Format::text}, {"json", Format::json}, {"sarif", Format::sarif}};
const std::map<std::string, Format> plain_formats{{"text", Format::text}, {"json", Format::json}};

const std::map<std::string, Format> table_formats{
    {"text", Format::text}, {"csv", Format::csv}, {"json", Format::json}};

const std::map<std::string, PaperSize> papers{{"A3", PaperSize::a3}, {"A4", PaperSize::a4}};

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

void add_material(CLI::App& app, std::string& symbols, std::vector<std::string>& fonts) {
  app.add_option("--symbols", symbols, "Folder of your own symbols, SVG files; they go before ours")
      ->type_name("DIR");
  app.add_option("--font", fonts, "Font (TTF, OTF) for characters that ours lack; may be repeated")
      ->type_name("FILE")
      ->expected(1)
      ->take_all();
}

constexpr const char* about =
    "Linewright reads one YAML file that describes a building's supply, transfer panel,\n"
    "inverters, batteries, generator and circuits; checks that it is safe in every state it\n"
    "can run in; and draws it.\n\n"
    "It advises, it does not certify: check against local codes, work by licensed people,\n"
    "prove dead before touching.";

constexpr const char* examples =
    "Examples:\n"
    "  linewright check house.yaml                what is wrong, and how to mend it\n"
    "  linewright draw house.yaml -o drawings     the permit drawing as PDF and SVG\n"
    "  linewright show --expanded house.yaml      the panel's interior, to copy and edit\n"
    "  linewright figures house.yaml              currents, cables, voltage drops in every state\n"
    "  linewright prove house.yaml                every switch position, proved safe or shown how\n"
    "  linewright steps house.yaml --isolate T1   the safe order of switching, and where to lock\n"
    "  linewright compare old.yaml house.yaml     what changed, and what the check finds anew\n"
    "  linewright explain rcd/selectivity         why a rule is there\n\n"
    "Exit code: 0 clean, 1 danger or breach found or text that cannot be drawn, 2 a file cannot be "
    "read, 3 the machine failed.";

/// Everything the arguments are read into; outlives the parsing.
struct Wanted {
  CheckCommand check;
  DrawCommand draw;
  double dots_per_inch = 0.0;
  ShowCommand show;
  StatesCommand states;
  FiguresCommand figures;
  ProveCommand prove;
  StepsCommand steps;
  ExplainCommand explain;
  SymbolsCommand symbols;
  CompareCommand compare;
  int code = clean;
};

void add_edits(CLI::App& sub, CheckCommand& into) {
  auto* shown = sub.add_flag_callback(
      "--suggest", [&into] { into.printed = Printed::suggestions; },
      "Show the edits that mend findings, as a diff");
  auto* written = sub.add_flag_callback(
      "--apply",
      [&into] {
        into.printed = Printed::suggestions;
        into.edits = Edits::written;
      },
      "Write these edits into the file");
  for (const char* other : {"--questions", "--format"}) {
    shown->excludes(other);
    written->excludes(other);
  }
}

void add_check(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("check", "Check site files against the rules");
  sub->add_option("FILE", wanted.check.files, "Site files")->required();
  add_choice(*sub, "--format", wanted.check.format, formats, "How to print (text)");
  add_profile(*sub, wanted.check.profile);
  add_choice(*sub, "--color", wanted.check.color, colors, "Colours (auto)");
  add_quiet(*sub, wanted.check.loudness);
  sub->add_flag_callback(
      "--questions", [&wanted] { wanted.check.printed = Printed::questions; },
      "List what has to be confirmed on site");
  sub->add_flag("--single-failure", wanted.check.single_failure,
                "Also what each contact makes possible that welds or does not move");
  add_edits(*sub, wanted.check);
  sub->footer(
      "Examples:\n"
      "  linewright check --profile GB house.yaml\n"
      "  linewright check --suggest house.yaml      the edits that mend, as a diff; nothing is "
      "written\n"
      "  linewright check --apply house.yaml        writes them into house.yaml");
  sub->callback([&wanted] {
    const bool edits = wanted.check.printed == Printed::suggestions;
    wanted.code = edits ? suggest(wanted.check) : check(wanted.check);
  });
}

void add_paper(CLI::App& sub, DrawCommand& into) {
  sub.add_option_function<std::string>(
         "--paper", [&into](const std::string& word) { into.paper = papers.at(word); },
         "Paper of the drawing, in place of the file's own (A3)")
      ->check(CLI::IsMember({"A3", "A4"}))
      ->type_name("SIZE");
  auto* portrait = sub.add_flag_callback(
      "--portrait", [&into] { into.turn = PaperTurn::portrait; },
      "The paper stands (usual for A4)");
  sub.add_flag_callback(
         "--landscape", [&into] { into.turn = PaperTurn::landscape; },
         "The paper lies (usual for A3)")
      ->excludes(portrait);
}

void add_draw(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("draw", "Draw a site as PDF and SVG");
  sub->add_option("FILE", wanted.draw.file, "Site file")->required();
  auto* folder = sub->add_option("-o,--output", wanted.draw.folder, "Folder for the drawings")
                     ->type_name("DIR");
  auto* png = sub->add_option("--png", wanted.dots_per_inch, "Also pictures, dots an inch")
                  ->check(CLI::Range(36.0, 600.0))
                  ->type_name("DPI");
  sub->add_flag("--states", wanted.draw.states, "Also sheets with a picture of each state");
  add_paper(*sub, wanted.draw);
  sub->add_flag("--monochrome", wanted.draw.monochrome, "Black on white, for copiers");
  add_material(*sub, wanted.draw.symbols, wanted.draw.fonts);
  sub->add_flag("--flags", wanted.draw.flags,
                "Also sheets with the findings as numbered balloons, and their table");
  sub->add_flag("--checklist", wanted.draw.checklist,
                "Print what authorities ask for: where it is on the drawing, or what is missing");
  add_choice(*sub, "--format", wanted.draw.format, plain_formats,
             "How to print the checklist (text)");
  add_profile(*sub, wanted.draw.profile);
  add_choice(*sub, "--color", wanted.draw.color, colors, "Colours (auto)");
  add_quiet(*sub, wanted.draw.loudness);
  sub->footer(
      "Examples:\n"
      "  linewright draw house.yaml -o drawings --png 200\n"
      "  linewright draw house.yaml --checklist");
  sub->callback([&wanted, png, folder] {
    if (folder->count() == 0 && !wanted.draw.checklist)
      throw CLI::RequiredError("--output or --checklist");
    if (png->count() > 0) wanted.draw.dots_per_inch = wanted.dots_per_inch;
    wanted.code = draw(wanted.draw);
  });
}

void add_symbols(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("symbols", "Draw sheets of all symbols, for review");
  sub->add_option("-o,--output", wanted.symbols.folder, "Folder for the sheets")
      ->type_name("DIR")
      ->required();
  auto* png = sub->add_option("--png", wanted.dots_per_inch, "Also pictures, dots an inch")
                  ->check(CLI::Range(36.0, 600.0))
                  ->type_name("DPI");
  add_material(*sub, wanted.symbols.symbols, wanted.symbols.fonts);
  sub->footer(
      "Each symbol stands on the 2.5 mm grid with its connection points (small squares) and their\n"
      "names, its title, its name and its meaning.\n\n"
      "Example:\n  linewright symbols -o sheets --symbols my-symbols");
  sub->callback([&wanted, png] {
    if (png->count() > 0) wanted.symbols.dots_per_inch = wanted.dots_per_inch;
    wanted.code = symbols(wanted.symbols);
  });
}

void add_show(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("show", "Say what was read from a site file");
  sub->add_option("FILE", wanted.show.file, "Site file")->required();
  sub->add_flag_callback(
      "--expanded", [&wanted] { wanted.show.what = Shown::expanded; },
      "Print the file with ready-made interiors and types written out");
  add_profile(*sub, wanted.show.profile);
  add_choice(*sub, "--color", wanted.show.color, colors, "Colours (auto)");
  sub->footer("Example:\n  linewright show --expanded house.yaml > house-explicit.yaml");
  sub->callback([&wanted] { wanted.code = show(wanted.show); });
}

void add_states(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("states", "Tell every state: switches, sources, bonds, RCDs");
  sub->add_option("FILE", wanted.states.file, "Site file")->required();
  add_choice(*sub, "--format", wanted.states.format, table_formats, "How to print (text)");
  add_choice(*sub, "--color", wanted.states.color, colors, "Colours (auto)");
  sub->footer("Example:\n  linewright states --format csv house.yaml > states.csv");
  sub->callback([&wanted] { wanted.code = states(wanted.states); });
}

void add_figures(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("figures", "Work out currents, cables and voltage drops");
  sub->add_option("FILE", wanted.figures.file, "Site file")->required();
  sub->add_option("--element", wanted.figures.element,
                  "Only of this cable, circuit or source, with formula and source")
      ->type_name("NAME");
  add_choice(*sub, "--format", wanted.figures.format, table_formats, "How to print (text)");
  add_choice(*sub, "--color", wanted.figures.color, colors, "Colours (auto)");
  sub->footer(
      "Without --element: the state in which each figure is worst.\n\n"
      "Examples:\n"
      "  linewright figures house.yaml\n"
      "  linewright figures --element W4 house.yaml");
  sub->callback([&wanted] { wanted.code = figures(wanted.figures); });
}

void add_prove(CLI::App& app, Wanted& wanted) {
  auto* sub =
      app.add_subcommand("prove", "Prove that no switch position anyone can reach is unsafe");
  sub->add_option("FILE", wanted.prove.file, "Site file")->required();
  add_choice(*sub, "--format", wanted.prove.format, plain_formats, "How to print (text)");
  sub->add_flag("--single-failure", wanted.prove.single_failure,
                "Also with each contact that moves by itself stuck, one at a time");
  add_profile(*sub, wanted.prove.profile);
  add_choice(*sub, "--color", wanted.prove.color, colors, "Colours (auto)");
  sub->footer("Example:\n  linewright prove house.yaml");
  sub->callback([&wanted] { wanted.code = prove(wanted.prove); });
}

void add_steps(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("steps", "Find the safe order of switching, or of isolating");
  StepsOptions& options = wanted.steps.options;
  sub->add_option("FILE", wanted.steps.file, "Site file")->required();
  sub->add_option("--from", options.from, "State to begin with (grid)")->type_name("STATE");
  auto* to = sub->add_option("--to", options.to, "State to end with")->type_name("STATE");
  auto* isolate =
      sub->add_option("--isolate", options.isolate, "Element, panel or board to make dead")
          ->type_name("NAME")
          ->excludes(to);
  sub->add_flag("--all", options.all, "Print all that are usual for the site, in full")
      ->excludes(to)
      ->excludes(isolate);
  add_choice(*sub, "--format", wanted.steps.format, plain_formats, "How to print (text)");
  add_profile(*sub, options.profile);
  add_choice(*sub, "--color", wanted.steps.color, colors, "Colours (auto)");
  sub->footer(
      "Without --to and --isolate: a list of what is usual for the site.\n"
      "Exit code: 0 found, 1 no safe sequence or something open, 2 file or name not known.\n\n"
      "Examples:\n"
      "  linewright steps --from off --to grid house.yaml\n"
      "  linewright steps --isolate T1 house.yaml");
  sub->callback([&wanted] { wanted.code = steps(wanted.steps); });
}

void add_compare(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("compare", "Tell what changed between two site files");
  sub->add_option("OLD", wanted.compare.old_file, "Site file as it was")->required();
  DrawCommand& drawn = wanted.compare.drawn;
  sub->add_option("NEW", drawn.file, "Site file as it is now")->required();
  auto* folder =
      sub->add_option("-o,--output", drawn.folder,
                      "Folder for the new drawing with a cloud round each change, and their table")
          ->type_name("DIR");
  auto* png = sub->add_option("--png", wanted.dots_per_inch, "Also pictures, dots an inch")
                  ->check(CLI::Range(36.0, 600.0))
                  ->type_name("DPI")
                  ->needs(folder);
  sub->add_flag("--states", drawn.states, "Also sheets with a picture of each state")
      ->needs(folder);
  add_paper(*sub, drawn);
  sub->add_flag("--monochrome", drawn.monochrome, "Black on white, for copiers")->needs(folder);
  add_material(*sub, drawn.symbols, drawn.fonts);
  add_choice(*sub, "--format", wanted.compare.format, plain_formats, "How to print (text)");
  add_profile(*sub, drawn.profile);
  add_choice(*sub, "--color", drawn.color, colors, "Colours of mistakes (auto)");
  sub->footer(
      "How a file is laid out and ordered makes no difference.\n"
      "Exit code: 0 no difference, 1 something changed, 2 a file cannot be read.\n\n"
      "Examples:\n"
      "  linewright compare issued/house.yaml house.yaml\n"
      "  linewright compare issued/house.yaml house.yaml -o changes");
  sub->callback([&wanted, png] {
    if (png->count() > 0) wanted.compare.drawn.dots_per_inch = wanted.dots_per_inch;
    wanted.compare.drawn.loudness = Loudness::quiet;
    wanted.code = compare(wanted.compare);
  });
}

void add_schema(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("schema", "Print the JSON Schema of the site file");
  sub->footer("Example:\n  linewright schema > site-file.schema.json");
  sub->callback([&wanted] { wanted.code = schema(); });
}

void add_explain(CLI::App& app, Wanted& wanted) {
  auto* sub = app.add_subcommand("explain", "Explain a rule, or list all of them");
  sub->add_option("RULE", wanted.explain.rule, "Rule, as a finding names it");
  add_choice(*sub, "--format", wanted.explain.format, plain_formats, "How to print (text)");
  sub->footer("Example:\n  linewright explain earthing/bond-present-when-islanded");
  sub->callback([&wanted] { wanted.code = explain(wanted.explain); });
}

int run(int argc, char** argv) {
  CLI::App app{about};
  app.set_version_flag("--version", "linewright " LINEWRIGHT_VERSION);
  app.require_subcommand(1);
  app.footer(examples);
  Wanted wanted;
  add_check(app, wanted);
  add_draw(app, wanted);
  add_show(app, wanted);
  add_states(app, wanted);
  add_figures(app, wanted);
  add_prove(app, wanted);
  add_steps(app, wanted);
  add_compare(app, wanted);
  add_schema(app, wanted);
  add_explain(app, wanted);
  add_symbols(app, wanted);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? clean : unreadable;
  }
  return wanted.code;
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
