// Blocks of notes: a heading with its lines, table or symbols, each kept together.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "diagram/overview.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

inline constexpr double block_gap = 4.5;  ///< mm between blocks below each other
inline constexpr const char* symbols_heading = "Symbols used";
inline constexpr double caption_height = 7.5;  ///< heading, its rule and the gap below

/// What stands in one row of a block, from the upper left corner of the row. It is never cut.
struct BlockRow {
  double height = 0.0;
  Group items;
};

/// A heading with its rows below each other.
struct Block {
  std::string heading;
  std::vector<BlockRow> rows;
  bool together = false;  ///< worth a new column rather than to be divided

  /// From the top of the heading to the end of the last row.
  double height() const;
};

/// One line of a table of facts: "external loop", "21 Ω".
struct Fact {
  std::string what;
  std::string value;
};

/// Facts under one heading.
struct FactBlock {
  std::string heading;
  std::vector<Fact> facts;
};

/// A numbered list of notes.
struct NoteList {
  std::string heading;
  std::vector<std::string> lines;
  Weight weight = Weight::regular;
  std::size_t first = 1;  ///< number of the first line
};

/// The table "How the site runs"; too high for any place if its words do not fit the width. Kept
/// together.
Block state_block(const Metrics& metrics, const OverviewNotes& notes, double width);

/// The lines of a list, broken at the width.
Block list_block(const Metrics& metrics, const NoteList& list, double width);

/// Facts as a table: what, and its value.
Block facts_block(const Metrics& metrics, const FactBlock& facts, double width);

/// Plain lines; or lines to be filled in, each with a rule to write on.
Block line_block(const Metrics& metrics, const LineBlock& lines, double width);

/// How far apart the rows of a legend are.
enum class LegendRows { apart, close };

/// All symbols with their names, in rows.
Block legend_block(const Metrics& metrics, const std::vector<std::string>& symbols, double width,
                   LegendRows rows = LegendRows::apart);

/// What a legend calls a symbol.
std::string legend_name(const Metrics& metrics, const std::string& symbol);

/// The symbols that a legend shows, the tall ones first; one set of strokes stands for all.
std::vector<std::string> legend_symbols(const Metrics& metrics,
                                        const std::vector<std::string>& symbols);

/// Draws a block with its upper left corner there.
void draw_block(Sketch& sketch, const Block& block, Point at, double width);

/// A text of a row, from the row's upper left corner.
void put(BlockRow& row, Point at, std::string words, Weight weight = Weight::regular,
         Ink ink = Ink::black, Anchor anchor = Anchor::start);

/// A column and how far down it is filled.
struct Filled {
  Rect column;
  double y = 0.0;

  double left() const { return column.y + column.height - y; }
};

/// A block with its place.
struct PlacedBlock {
  Block block;
  Rect place;
};

/// Columns under way, and the blocks that stand in them.
struct Filling {
  std::vector<Filled> columns;
  std::vector<PlacedBlock> blocks;

  explicit Filling(const std::vector<Rect>& places);

  /// Puts the block that is made for a column's width into the first one with room; false if none
  /// has.
  bool put(const std::function<Block(double width)>& make);
  /// The same, into the emptiest column with room; the left one of like ones.
  bool put_in_emptiest(const std::function<Block(double width)>& make);
  void draw(Sketch& sketch) const;
};

}  // namespace linewright::diagram
