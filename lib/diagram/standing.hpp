// What stays the same in whatever order the groups stand: computed once, asked for every order.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "diagram/order.hpp"

namespace linewright::diagram {

/// A group that is present in the rows of a frame, with its widest room there.
struct InFrame {
  std::size_t group = 0;
  Extent room;
  bool inside = false;  ///< one of its columns ends at a hub of the frame
};

/// A column that a bar has to do with: it ends there, or crosses the bar's layer.
struct AtBar {
  std::size_t chain = 0;
  std::size_t group = 0;
  double offset = 0.0;
  bool own = false;
  bool with_own = false;  ///< passes, but another column of its group ends at the bar
};

/// A bar or joint of a frame with the columns it has to do with, in the plan's order.
struct BarColumns {
  std::size_t hub = 0;
  std::vector<AtBar> columns;
};

/// A changeover with what comes to its throws, and what crosses their layer.
struct ThrowColumns {
  std::size_t hub = 0;
  std::size_t group = 0;  ///< its own
  std::vector<AtBar> ways;
  std::vector<AtBar> crossing;
};

/// What every order of one input has in common.
struct Standing {
  const OrderInput& input;
  Variables variables;
  Line line;  ///< room of each variable, and wishes; no separations yet
  std::vector<std::vector<InFrame>> frames;
  std::vector<std::pair<std::size_t, std::size_t>> frame_pairs;  ///< of one tier
  std::vector<BarColumns> bars;
  std::vector<std::pair<std::size_t, std::size_t>> bar_pairs;  ///< of one layer of a frame
  std::vector<ThrowColumns> throws;
  std::vector<std::pair<std::size_t, std::size_t>> siblings;  ///< groups, by the file's order
};

/// Computes it. The input must outlive the result.
Standing standing_of(const OrderInput& input);

/// A column's place in an order: position of its group, then offset inside it.
struct Key {
  std::size_t position = 0;
  double offset = 0.0;
  friend auto operator<=>(const Key&, const Key&) = default;
};

/// An interval of keys or positions; empty until it covers something.
template <class Value>
struct Interval {
  bool any = false;
  Value low{};
  Value high{};

  void cover(const Value& at) {
    low = any && low < at ? low : at;
    high = any && at < high ? high : at;
    any = true;
  }
};

Key key_of(const AtBar& column, const std::vector<std::size_t>& position);

/// Where the columns that end at the bar stand.
Interval<Key> reach_of(const BarColumns& bar, const std::vector<std::size_t>& position);

/// Where the groups inside a frame stand.
Interval<std::size_t> reach_of(const std::vector<InFrame>& frame,
                               const std::vector<std::size_t>& position);

/// The two ways of a changeover from left to right, as an order has them.
std::vector<AtBar> throws_in(const ThrowColumns& changeover,
                             const std::vector<std::size_t>& position);

/// What an order costs where lines can not keep apart.
Faults count_faults(const Standing& standing, const std::vector<std::size_t>& position);

}  // namespace linewright::diagram
