// The network seen by the proof: what is always one conductor is one group, what a switch joins
// is a joint between two groups.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "network/network.hpp"

namespace linewright::network {

/// A joint of two groups that some switch, or something unknown, opens and closes.
struct Joint {
  std::uint32_t a = 0;
  std::uint32_t b = 0;
  std::uint32_t edge = 0;  ///< index into Network::edges
};

/// Groups of nodes over edges of one kind.
class Joints {
 public:
  using Which = std::function<bool(const Edge&)>;
  /// `used` says which edges count; those of them that are always closed make groups, except
  /// where they are to be `kept` as joints that never open.
  Joints(const Network& network, const Which& used, const Which& kept);
  Joints(const Network& network, const Which& used);

  std::uint32_t group(std::uint32_t node) const { return group_[node]; }
  const std::vector<Joint>& all() const { return joints_; }

  /// The joints that can lie on a way between two of these groups: branches that end in none of
  /// them are left out.
  std::vector<Joint> between(const std::vector<std::uint32_t>& groups) const;

 private:
  std::vector<std::uint32_t> group_;  ///< by node
  std::vector<Joint> joints_;
};

/// The joints less those of a line conductor whose every way another line conductor has as well:
/// the same switches between the same terminals. `nodes` are the ends that ways may have; where
/// one is an end, so are the other line conductors of its terminal.
std::vector<Joint> without_like_lines(const Network& network, const Joints& groups,
                                      std::vector<Joint> joints,
                                      const std::vector<std::uint32_t>& nodes);

/// A joint or edge of lines, of neutrals, or of anything that leads an earth fault home.
bool is_line_edge(const Edge& edge);
bool is_neutral_edge(const Edge& edge);
bool is_return_edge(const Edge& edge);

}  // namespace linewright::network
