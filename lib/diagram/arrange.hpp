// Rows of the sheet, and the groups of columns that keep their distance in each of them.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "diagram/measure.hpp"
#include "diagram/plan.hpp"

namespace linewright::diagram {

/// The rows of a sheet from its top: sources, a channel, then for each tier of frames an entry row,
/// and for each rank a layer of bars with the row of devices below it, then a channel; at last the
/// tables.
struct Rows {
  std::vector<std::size_t> entries;  ///< by tier from 1; entry 0 unused
  std::vector<int> ranks;            ///< by tier, the most of its frames
  std::size_t table = 2;
  int circuit_tiers = 0;  ///< the lowest tier with circuits: tables stand below it

  int tiers() const { return static_cast<int>(entries.size()) - 1; }
  std::size_t source() const { return 0; }
  std::size_t channel(int tier) const;          ///< below that tier; 0: below the sources
  std::size_t layer(int tier, int rank) const;  ///< of the bars of that rank
  std::size_t below(int tier, int rank) const;  ///< devices under that layer; rank 0: entry row
  std::size_t count() const { return table + 1; }
};

/// Which rows a chain crosses and where its stacks stand.
struct ChainRows {
  std::size_t first = 0;
  std::size_t last = 0;
  std::size_t upper = 0;
  std::size_t middle = 0;
  std::size_t lower = 0;
};

/// A column of a group; `offset` in mm from the group's axis.
struct Member {
  std::size_t chain = 0;
  double offset = 0.0;
  std::vector<std::optional<Extent>> rows;  ///< its own room, where the group hangs on a source
};

/// Columns with fixed distances: a source or changeover with the chains below it, the circuits of
/// one bar, or one chain by itself.
struct ColumnGroup {
  std::size_t hub = site::none;  ///< the source or changeover it is built on
  std::vector<Member> members;
  std::vector<std::optional<Extent>> rows;  ///< room in each row; nothing where it is absent
  bool circuits = false;
};

/// All groups of a plan in the rows of its sheet.
struct Arrangement {
  Rows rows;
  std::vector<double> row_heights;
  std::vector<ChainRows> chain_rows;  ///< by chain
  std::vector<std::size_t> group_of;  ///< by chain
  std::vector<double> offset_of;      ///< by chain, in its group
  std::vector<ColumnGroup> groups;
};

/// Gaps of a sheet: from airy to as tight as is still calm.
struct Spacing {
  double entry = 10.0;   ///< from the top of a frame to its first bar, no device between
  double layers = 7.5;   ///< between bars, no device between
  double throws = 5.0;   ///< from a bar to the throws of a changeover
  double bottom = 2.5;   ///< from the last device to the bottom of its frame
  double channel = 5.0;  ///< between tiers, at least
};

/// Groups the chains of a plan and gives their stacks rows.
Arrangement arrange(const site::Site& site, const Metrics& metrics, const Plan& plan,
                    const Measures& measures, const Spacing& spacing);

/// Distance of a port hub's terminal from its axis; throws get theirs from the order of the groups.
double port_offset(const site::Site& site, const Metrics& metrics, const Hub& hub,
                   const std::string& port);

}  // namespace linewright::diagram
