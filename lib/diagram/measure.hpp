// How much room everything of a plan needs, before anything has a place.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "diagram/lettering.hpp"
#include "diagram/metrics.hpp"
#include "diagram/plan.hpp"
#include "diagram/wording.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

inline constexpr double module_width = 2.5;  ///< the grid of symbols and columns, mm
inline constexpr double first_line = 6.25;  ///< from the upper port to the first baseline beside it
inline constexpr double label_gap = 1.25;   ///< from ink to its label
inline constexpr double met_drop = 13.75;   ///< from a frame to the main earthing terminal below it
inline constexpr double table_heads = 11.0;  ///< room of the words at the left of a table
inline constexpr double inner_bond_room =
    12.5;  ///< at the left of a machine with a bond of its own

/// Room to both sides of a column, in mm from its axis.
struct Extent {
  double left = 0.0;
  double right = 0.0;

  void cover(Extent other);
};

/// A piece in its stack; `top` is where its upper port is, from the top of the stack.
struct StackPiece {
  Piece piece;
  double top = 0.0;
  double height = 0.0;
};

/// Pieces in series with the room they and their labels need.
struct Stack {
  std::vector<StackPiece> pieces;
  double height = 0.0;
  Extent extent;

  bool empty() const { return pieces.empty(); }
};

/// How a chain divides: what stands in the frame of its upper hub, what lies between the frames,
/// what stands in the frame of its lower hub.
struct ChainShape {
  Stack upper;
  Stack middle;  ///< with at least one element; else the run's words are in `cable`
  Stack lower;
  std::vector<Piece> between;      ///< the pieces of the middle, whether stacked or not
  std::vector<std::string> cable;  ///< grey lines beside the run in the channel
  double cable_width = 0.0;
  Extent along;  ///< kept free in every row that the chain crosses
};

/// One column of the DC side above an inverter.
struct BranchShape {
  std::size_t branch = 0;
  std::string port;
  double offset = 0.0;  ///< of its axis from that of the inverter
  Stack stack;          ///< from the source's port to that of the inverter
};

/// A source with all that belongs to it; heights from its top.
struct SourceShape {
  double symbol_top = 0.0;  ///< y of the symbol's origin
  double height = 0.0;      ///< to its lower port and down the lead
  double reach = 0.0;       ///< to the lowest ink of its joints with earth
  double lead = 0.0;        ///< wire from the port to the first device, clear of words
  Extent extent;
  std::vector<BranchShape> branches;
};

/// The table under the circuits.
struct TableShape {
  double pitch = 12.5;
  double row_height = 3.5;
  int rows = 8;
  double name_height = 20.0;
  double height() const { return row_height * rows + name_height; }
};

/// All measures of a plan.
struct Measures {
  std::vector<ChainShape> chains;    ///< by chain
  std::vector<SourceShape> sources;  ///< by hub; empty for others
  std::vector<CircuitCells> cells;   ///< by chain; empty for chains that do not end in a load
  std::vector<std::string> names;    ///< by chain, of its load
  std::vector<double> frame_names;   ///< by frame, width of its name; 0: it has none
  std::vector<double> bar_names;     ///< by frame, width of the longest name of its bars
  std::vector<Extent> bar_ends;      ///< by frame, room beside its bars; empty: none
  std::vector<double> tag_heights;   ///< by frame; 0 for those that are no tags
  TableShape table;
  double layers = 0.0;  ///< least from bar to bar, however tight the sheet
};

/// Shape of a symbol; a plain square where the library has none of that name.
const SymbolShape& shape_of(const Metrics& metrics, const std::string& symbol);

/// Place of a port in mm from the origin of the symbol; the origin if it has no such port.
Point port_of(const SymbolShape& shape, std::string_view port);

/// The widest of the lines; the designation is bold.
double label_width(const Metrics& metrics, const Label& label);

/// How much room things take beyond what they need, mm.
struct Roominess {
  double pitch = 0.0;  ///< a column of the tables
  double row = 0.0;    ///< a row of them
  CableLines to_tags = CableLines::narrow;
};

inline constexpr Roominess airy{.pitch = module_width, .row = 0.5, .to_tags = CableLines::wide};
inline constexpr Roominess tight{};

/// Measures the whole plan.
Measures measure(const site::Site& site, const Metrics& metrics, const Plan& plan, Roominess room);

inline constexpr double tag_arrow = 7.5;  ///< from the top of a tag to the tip of its arrow

/// Widest name on the tag of a board before it is broken, mm.
inline constexpr double tag_name_width = 14.0;

/// Room of the words on a chain's cable in a channel.
double cable_room(const ChainShape& shape);

/// Whether a frame is but the tag of a board that another sheet shows.
bool is_tag(const Plan& plan, std::size_t frame);

/// The elements of a chain in its order.
std::vector<std::size_t> elements_of(const Chain& chain);

/// The last run with a cable, or null.
const site::Run* cable_of(const site::Site& site, const Chain& chain);

}  // namespace linewright::diagram
