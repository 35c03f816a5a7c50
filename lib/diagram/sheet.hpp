// A drawn sheet as geometry with meaning: what stands where, and what it stands for.
#pragma once

#include <map>
#include <string>
#include <variant>
#include <vector>

namespace linewright::diagram {

/// A point on the sheet in millimetres from the upper left corner of the trimmed paper, y
/// downwards.
struct Point {
  double x = 0.0;
  double y = 0.0;
  friend bool operator==(const Point&, const Point&) = default;
};

/// An axis-parallel rectangle in millimetres; `width` and `height` are never negative.
struct Rect {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
  friend bool operator==(const Rect&, const Rect&) = default;
};

/// What a line is for; the drawing decides its width and pattern from that.
enum class Stroke {
  symbol,      ///< outlines of symbols
  wire,        ///< conductors of a run
  busbar,      ///< busbars and the earthing bar
  protective,  ///< protective and bonding conductors drawn on their own
  mechanical,  ///< mechanical links and interlocks, dashed
  control,     ///< signals and control
  boundary,    ///< dash-dotted frame of an assembly
  frame,       ///< drawing frame and outline of the title block
  rule,        ///< rules of headings and inner lines of the title block
  hairline,    ///< faint lines of tables
  zone,        ///< zone ticks and outer border
  live,        ///< conductors alive from the source that `source` says; pictures only, as all below
  live_bar,    ///< busbars alive from that source
  dead,        ///< conductors alive from none
  dead_bar,    ///< busbars alive from none
  undecided,   ///< conductors of which the file does not say whether they are alive
  fault_out,   ///< the way of a fault current to the fault
  fault_home,  ///< its way back to the source
  halo,        ///< broad band under a way that is to be seen
  tag,         ///< ring round the mark of a source
  flag,        ///< ring round what has to be moved
  balloon,     ///< ring round the number of a finding
  leader,      ///< from that ring to what the finding is about
  cloud,       ///< round what changed since the version before, and its number's triangle
};

/// How dark a text or a fill is.
enum class Ink { black, grey, pale, white, none };

enum class Anchor { start, middle, end };

/// Lettering stands upright or reads from the right of the sheet; nothing else is allowed.
enum class Turn { upright, from_the_right };

enum class Weight { regular, bold };

struct Polyline {
  std::vector<Point> points;
  Stroke stroke = Stroke::wire;
  bool closed = false;
  Ink fill = Ink::none;
  int source = 0;  ///< live lines: number of the source, from 1
};

struct Box {
  Rect rect;
  Stroke stroke = Stroke::symbol;
  Ink fill = Ink::none;
  bool outlined = true;
  int source = 0;  ///< outlines of what is alive: number of the source, from 1
};

/// A filled dot: a true joint of conductors.
struct Dot {
  Point at;
  double diameter = 1.25;
};

/// One line of text; `at` is on the baseline, at the start, middle or end as `anchor` says.
struct Text {
  Point at;
  std::string text;
  double height = 2.5;  ///< nominal lettering height in mm (ISO 3098 step)
  Weight weight = Weight::regular;
  Ink ink = Ink::black;
  Anchor anchor = Anchor::start;
  Turn turn = Turn::upright;
};

/// A symbol of the library, its origin at `at`, turned clockwise by `quarter_turns` times 90
/// degrees.
struct SymbolUse {
  std::string symbol;
  Point at;
  int quarter_turns = 0;
};

/// A way to another place of the document: "continues on 3/C4".
struct Link {
  Rect area;
  /// A Group's `id`, looked for on the other sheets first; "sheet-name#id" or "sheet-name#" say
  /// which sheet.
  std::string target;
};

using Item = std::variant<Polyline, Box, Dot, Text, SymbolUse, Link>;

/// What belongs together: an element with its label, a run, a frame, a table.
struct Group {
  std::string kind;   ///< "element", "run", "boundary", "table", "title-block", "frame", "notes" …
  std::string id;     ///< designation in the user's words, unique on the sheet if not empty
  std::string title;  ///< short name for screen readers and tooltips
  std::string description;                  ///< one sentence with the data
  std::map<std::string, std::string> data;  ///< further facts: "kind", "from", "to"
  std::vector<Item> items;
};

/// One sheet of paper.
struct Sheet {
  std::string name;   ///< "overview", used in file names
  std::string title;  ///< for outlines and screen readers
  double width = 420.0;
  double height = 297.0;
  std::vector<Group> groups;  ///< in drawing and reading order
};

/// All sheets of one site with what the file's properties say.
struct Document {
  std::string title;
  std::string subject;
  std::string author;
  std::string language = "en";
  std::string date;  ///< ISO 8601 day from the site file, or empty
  std::vector<Sheet> sheets;
};

}  // namespace linewright::diagram
