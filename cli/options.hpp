// What the command line can ask for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linewright.hpp"

namespace linewright::cli {

enum class Format { text, json, sarif, csv };
enum class ColorWish { automatic, always, never };
enum class Loudness { usual, quiet };
/// What of a check is printed as text.
enum class Printed { report, questions, suggestions };
/// What becomes of the edits that mend findings.
enum class Edits { shown, written };

/// Exit codes of the command; the largest of several files wins.
enum ExitCode : int { clean = 0, findings_found = 1, unreadable = 2, machine_failed = 3 };

struct CheckCommand {
  std::vector<std::string> files;
  Format format = Format::text;
  std::string profile;
  ColorWish color = ColorWish::automatic;
  Loudness loudness = Loudness::usual;
  Printed printed = Printed::report;
  Edits edits = Edits::shown;
  bool single_failure = false;
};

struct DrawCommand {
  std::string file;
  std::string folder;  ///< empty: nothing is written
  std::string profile;
  ColorWish color = ColorWish::automatic;
  Loudness loudness = Loudness::usual;
  std::optional<double> dots_per_inch;
  bool states = false;  ///< also a picture of each state
  bool monochrome = false;
  std::optional<site::PaperSize> paper;
  std::optional<site::PaperTurn> turn;
  std::string symbols;             ///< folder of the user's symbols; empty: none
  std::vector<std::string> fonts;  ///< font files of the user
  bool flags = false;              ///< also the findings as balloons on the sheets
  bool checklist = false;          ///< print what authorities ask for, and where it is
  Format format = Format::text;
};

struct SymbolsCommand {
  std::string folder = ".";
  std::string symbols;
  std::vector<std::string> fonts;
  std::optional<double> dots_per_inch;
};

enum class Shown { summary, expanded };

struct ShowCommand {
  std::string file;
  std::string profile;
  ColorWish color = ColorWish::automatic;
  Shown what = Shown::summary;
};

struct StatesCommand {
  std::string file;
  Format format = Format::text;
  ColorWish color = ColorWish::automatic;
};

struct FiguresCommand {
  std::string file;
  std::string element;
  Format format = Format::text;
  ColorWish color = ColorWish::automatic;
};

struct ProveCommand {
  std::string file;
  Format format = Format::text;
  std::string profile;
  ColorWish color = ColorWish::automatic;
  bool single_failure = false;
};

struct StepsCommand {
  std::string file;
  StepsOptions options;
  Format format = Format::text;
  ColorWish color = ColorWish::automatic;
};

struct ExplainCommand {
  std::string rule;  ///< empty: list all
  Format format = Format::text;
};

int check(const CheckCommand& command);
/// Shows the edits that mend findings as a diff, or writes them.
int suggest(const CheckCommand& command);
int draw(const DrawCommand& command);
/// Draws the review sheets of all symbols.
int symbols(const SymbolsCommand& command);
int show(const ShowCommand& command);
int explain(const ExplainCommand& command);
int states(const StatesCommand& command);
int figures(const FiguresCommand& command);
int prove(const ProveCommand& command);
int steps(const StepsCommand& command);
int schema();

}  // namespace linewright::cli
