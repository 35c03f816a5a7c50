// Every situation that the site allows, as clauses.
#pragma once

#include <algorithm>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "network/clauses.hpp"
#include "network/joints.hpp"
#include "network/movement.hpp"

namespace linewright::network {

/// Of which inverters the contacts that watch other sources do so: close, open or stay as these
/// sources are alive. Those of the others stand anywhere: more situations, never fewer, and
/// far fewer clauses.
struct Laws {
  bool of_all = true;
  std::vector<std::size_t> of;  ///< elements, if not of all

  bool bind(std::size_t element) const {
    return of_all || std::find(of.begin(), of.end(), element) != of.end();
  }
};

/// The situations of a site: where each switch stands, what runs, which edges are closed.
/// Interlocks hold only under the assumptions of `interlocks()`, so that a proof can name those
/// that it needs. The network, site and movement must outlive it.
class Encoding {
 public:
  Encoding(const Network& network, const site::Site& site, const Movement& movement,
           Laws laws = {});

  Clauses& clauses() { return clauses_; }
  Literal at(int by, int position) const;
  Literal runs(std::size_t source) const { return runs_[source]; }
  Literal closed(std::uint32_t edge);

  /// By barrier of the movement: assume it and the interlock holds.
  const std::vector<Literal>& barriers() const { return barriers_; }

  /// Assumed, everything that the file does not say stands open; with `shut`, closed.
  Literal sure(bool shut);

  /// The situation that the last solve found; law-driven contacts as the plain laws have them.
  Situation found() const;
  /// Rules out a situation under `when`: as far as somebody moves it, or, given the switches that
  /// matter, all situations that have these alike.
  void rule_out(const Situation& situation, const std::vector<bool>& matters, Literal when);
  /// Literals that hold where something differs from a situation, law-driven contacts left out.
  std::vector<Literal> departures(const Situation& from) const;

  /// A way over joints: under `wanted`, its two ends are joined by closed joints.
  /// `ends_a` and `ends_b` are groups with the literal that chooses each; exactly one of each is
  /// chosen. Returns by joint the literal that the way uses it. A way that `may_cross` itself can
  /// hold loops beside it.
  struct Ends {
    std::uint32_t group = 0;
    Literal chosen = 0;
  };
  std::vector<Literal> way(const std::vector<Joint>& joints, const std::vector<Ends>& ends_a,
                           const std::vector<Ends>& ends_b, const std::vector<Literal>& closed,
                           bool may_cross = false);
  /// Literals of the joints' edges.
  std::vector<Literal> closed_of(const std::vector<Joint>& joints);
  /// A label by group that holds at `from` and spreads over closed joints.
  std::map<std::uint32_t, Literal> label(const std::vector<Joint>& joints,
                                         const std::vector<Ends>& from,
                                         const std::vector<Literal>& closed);

 private:
  void add_positions();
  void add_barriers();
  void add_law(int by);
  void add_link(int by);
  void add_inner_bond(int by);
  void add_transfer(int by);
  void at_rest(int by, Literal when);
  void close_transfers();
  void add_supervised();
  std::size_t source_at(std::size_t element) const { return source_of(network_, element); }
  std::vector<std::size_t> rivals(std::size_t element, bool of_transfer) const;
  Literal joined_to_rival(std::size_t element, std::size_t terminal, bool of_transfer);
  Literal standing_open(int by) const;

  const Network& network_;
  const site::Site& site_;
  const Movement& movement_;
  Laws laws_;
  Clauses clauses_;
  Joints lines_;
  std::vector<std::vector<Literal>> at_;  ///< by switch and position
  std::vector<Literal> runs_;             ///< by source
  std::vector<Literal> barriers_;
  std::map<std::size_t, Literal> sees_rival_;  ///< by inverter with a transfer contact
  std::map<std::pair<int, std::uint64_t>, Literal> closed_;
  std::map<std::uint32_t, Literal> undecided_;
  std::vector<std::pair<Literal, Literal>>
      unknown_;  ///< when a contact's place is not known; closed
};

}  // namespace linewright::network
