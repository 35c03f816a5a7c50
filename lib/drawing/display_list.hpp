// Everything that is drawn, resolved: widths, dashes, colours, glyphs, places of links. The back
// ends replay it and decide nothing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "diagram/sheet.hpp"
#include "drawing/pens.hpp"
#include "drawing/symbol.hpp"
#include "drawing/text.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// An outline on the sheet, in mm.
struct Shape {
  Path path;
  std::optional<Pen> pen;
  std::optional<Colour> fill;
};

/// A filled dot.
struct Disc {
  Point centre;
  double diameter = 1.25;
  Colour colour;
};

/// One line of text; `at` is on the baseline where `anchor` says.
struct Lettering {
  Point at;
  std::string text;  ///< cleaned
  ShapedText shaped;
  double size = 3.5;  ///< font size in mm
  diagram::Weight weight = diagram::Weight::regular;
  Colour colour;
  diagram::Anchor anchor = diagram::Anchor::start;
  diagram::Turn turn = diagram::Turn::upright;
};

/// A symbol of DisplayList::symbols, turned clockwise; its marks follow as Lettering, upright.
struct Placement {
  std::string symbol;
  Point at;
  int quarter_turns = 0;  ///< 0 to 3
};

/// An area that leads to a group, or to a sheet if `mark` is empty.
struct Jump {
  Rect area;
  std::size_t sheet = 0;  ///< index in Drawing::sheets
  std::string mark;       ///< DrawnGroup::mark of the target
  std::string title;      ///< where it leads, in the user's words
};

using Mark = std::variant<Shape, Disc, Lettering, Placement, Jump>;

/// A group of the sheet with all that it draws.
struct DrawnGroup {
  std::string kind;
  std::string id;    ///< in the user's words, may be empty
  std::string mark;  ///< unique on its sheet, letters, digits, '-', '_', '.' only; empty without id
  std::string title;
  std::string description;
  std::map<std::string, std::string> data;
  std::vector<Mark> marks;
};

/// One sheet, ready to be drawn.
struct DisplayList {
  std::string name;
  std::string title;
  double width = 420.0;
  double height = 297.0;
  std::vector<DrawnGroup> groups;
  SymbolLibrary symbols;  ///< those used
};

/// A text with characters that no font has.
struct UnreadableText {
  std::string sheet;  ///< its name
  std::string group;  ///< what the text belongs to, in the user's words; may be empty
  std::string text;
  std::u32string missing;  ///< each once

  friend bool operator==(const UnreadableText&, const UnreadableText&) = default;
};

/// All sheets, and what could not be drawn as asked.
struct Drawing {
  std::string title;
  std::string subject;
  std::string author;
  std::string language;
  std::string date;  ///< ISO 8601 day, or empty
  FontSet fonts;     ///< that the lettering is set in
  std::vector<DisplayList> sheets;
  std::vector<UnreadableText> unreadable;  ///< as they come, each text once a group
  std::vector<std::string> dead_links;     ///< each once: targets that are nowhere in the document
};

/// The document as display lists. Fails when a symbol is not in the library, when a sheet has no
/// size that paper can have, or when a coordinate is not a number.
Result<Drawing> render(const diagram::Document& document, const SymbolLibrary& symbols,
                       Palette palette = Palette::colour, const FontSet& fonts = {});

/// One sheet alone; links that lead elsewhere are dead.
Result<Drawing> render(const diagram::Sheet& sheet, const SymbolLibrary& symbols);

/// A mark that XML accepts as an id and that no two texts share: "-Q1" is "id-Q1", "+A1" is
/// "id_2BA1".
std::string mark_of(std::string_view id);

}  // namespace linewright::drawing
