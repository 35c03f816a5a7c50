// The public face of the library: text in, values and text out. Nothing here opens a file, reads a
// clock, a locale or the environment, and nothing throws.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/material.hpp"
#include "findings/finding.hpp"
#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright {

/// What is done of checking and drawing.
enum class Step { read, checked, laid_out, pdf_written, svg_written };

/// Told after each step, in their order, so that a caller can time them: the library has no clock.
using OnStep = std::function<void(Step)>;

/// How to check a site.
struct CheckOptions {
  std::string profile;            ///< in place of the file's own; empty: as the file says
  bool sum_up_positions = false;  ///< also one line on the proof over every position
  OnStep on_step;
};

/// What was worked out of a site on the way to its report.
struct Analysis;

/// What came of checking one file: mistakes, or the site and its report.
struct Checked {
  std::vector<Mistake> mistakes;
  std::shared_ptr<const site::Site> site;    ///< only if there are no mistakes
  std::shared_ptr<const Analysis> analysis;  ///< the same; saves draw_site the work
  Report report;
  std::string positions;  ///< the line on the proof, if asked for
};

/// Reads a site file and runs every rule over it. `file` is only for the report's words.
Checked check_site(std::string_view yaml, std::string_view file, const CheckOptions& options = {});

/// Names of the built-in profiles, the international one first.
std::vector<std::string> profile_names();

/// Whether the drawing has sheets with a picture of each state.
enum class StatePictures { left_out, drawn };

/// Whether the drawing has greys, tints and colours, or is black on white for copiers.
enum class InkColours { several, black_only };

/// Does every piece of work, in any order and perhaps several at a time, and returns when all are
/// done. The library starts no thread: a caller with several cores hands in what uses them.
using DoAll = std::function<void(const std::vector<std::function<void()>>&)>;

/// How to draw a site.
struct DrawOptions {
  std::string profile;  ///< in place of the file's own; empty: as the file says
  std::string date;     ///< ISO 8601 day for sites whose file gives none; may be empty
  std::optional<double> dots_per_inch;  ///< also make pictures of this resolution
  std::string file_stem;  ///< sheets will be saved as STEM-SHEET.svg; links between them say so
  StatePictures states = StatePictures::left_out;
  std::optional<site::PaperSize> paper;  ///< in place of the site's own
  InkColours colours = InkColours::several;
  std::optional<site::PaperTurn> turn;  ///< in place of the site's own, or the paper's usual one
  drawing::Material material;           ///< the user's symbols and fonts behind the built-in ones
  OnStep on_step;
  DoAll do_all;  ///< empty: one piece after the other; the bytes are the same either way
};

/// One drawn sheet, by the name of the sheet.
struct DrawnSheet {
  std::string name;  ///< "overview"
  std::string svg;
  std::string png;  ///< empty unless asked for
};

/// All drawings of a site.
struct Drawn {
  std::string pdf;  ///< every sheet
  std::vector<DrawnSheet> sheets;
  std::vector<std::string> notices;  ///< what could not be drawn as written, in plain words
  std::size_t unreadable_texts = 0;  ///< how many of them hold characters that no font has
};

/// Draws the permit drawing of a site that was read without mistakes. The report decides only what
/// the sheet must say of open dangers.
Result<Drawn> draw_site(const site::Site& site, const Report& report, const DrawOptions& options);
/// The same of a file that was checked without mistakes.
Result<Drawn> draw_site(const Checked& checked, const DrawOptions& options);

/// The review sheets of all symbols of `options.material`: each on its grid, with its connection
/// points, names and meaning. Sheets are named "1", "2" and so on.
Result<Drawn> draw_symbols(const DrawOptions& options);

/// The same sheets with a numbered balloon for each finding of the report and a table of them. Not
/// for an authority: the drawing itself stays clean.
Result<Drawn> flags_of_site(const site::Site& site, const Report& report,
                            const DrawOptions& options);

/// How the checklist is printed.
enum class ChecklistFormat { text, json };

/// A checklist, and whether nothing of it is missing.
struct ChecklistFound {
  std::string text;
  bool complete = false;
};

/// The items that authorities ask for on a drawing, each held against the drawing that `draw_site`
/// makes of the site with these options.
Result<ChecklistFound> checklist_of_site(const site::Site& site, const Report& report,
                                         const DrawOptions& options, ChecklistFormat format);

/// The site in words: sources, boards, circuits and how it runs.
Result<std::string> describe_site(const site::Site& site, const DrawOptions& options = {});

/// How the table of states is written.
enum class StatesFormat { text, csv, json };

/// Every named state: where each switch stands, what feeds each board, bonds, kinds of earthing,
/// and the residual-current device that sees a fault of each circuit.
std::string states_of_site(const site::Site& site, StatesFormat format);

/// How to prove a site.
struct ProofOptions {
  std::string profile;  ///< in place of the file's own; empty: as the file says
  bool json = false;
  /// Also with each contact that a coil or a law moves stuck in each position, one at a time.
  bool single_failure = false;
};

/// A certificate and whether every hazard was shown to be impossible.
struct Proved {
  std::string text;
  bool safe = false;
};

/// Every position that the interlocks allow, asked for every hazard.
Result<Proved> prove_site(const site::Site& site, const ProofOptions& options = {});

/// Which switching procedures are wanted. Without `to` and `isolate`: those that are usual for
/// such a site, as a list, or in full where `all` is set.
struct StepsOptions {
  std::string profile;  ///< in place of the file's own; empty: as the file says
  std::string from;     ///< a state; empty: `grid`, or the first
  std::string to;       ///< a state
  std::string isolate;  ///< designation of what is to be dead: an element or an assembly
  bool all = false;
  bool json = false;  ///< always in full
};

/// Procedures in words, and whether each of them was found with nothing left open.
struct StepsFound {
  std::string text;
  bool ready = false;
};

/// The shortest safe switching sequences. Fails, with the nearest name, if a name is not known.
Result<StepsFound> steps_of_site(const site::Site& site, const StepsOptions& options);

/// The same in one line: how many situations, and how many hazards are impossible in them.
Result<std::string> positions_in_a_line(const site::Site& site, const std::string& profile = {});

/// What each single failure makes possible that is not possible without it, as text. The profile
/// is in place of the file's own; empty: as the file says.
Result<std::string> single_failures_of_site(const site::Site& site,
                                            const std::string& profile = {});

}  // namespace linewright
