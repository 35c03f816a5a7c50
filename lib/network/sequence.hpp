// The way from one situation to another, a move at a time, through safe situations only.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "network/hazards.hpp"
#include "network/movement.hpp"
#include "network/network.hpp"

namespace linewright::network {

/// Where a sequence is to end; what has no value may be any way. Contacts that follow a law are
/// never asked for, nor are sources that only follow the voltage of others unless they are to stop.
struct Goal {
  std::vector<std::optional<int>> positions;  ///< by switch
  std::vector<std::optional<bool>> running;   ///< by network.sources
  bool outlasts_supply = false;  ///< still safe if the supply fails or returns by itself
};

/// The goal that is just this situation.
Goal goal_of(const Network& network, const Movement& movement, const Situation& situation);

/// One step: a move, what follows from it, and how the site stands then.
struct SequenceStep {
  Move move;
  std::vector<Move> followed_by;    ///< after an event: what controllers do until all is safe
  std::vector<SwitchAt> by_itself;  ///< contacts that followed a law
  std::vector<Hazard> passing;      ///< after an event: until the controllers have acted
  Situation after;
};

/// A move that no sequence may make, and what forbids it.
struct Refusal {
  Situation before;
  Situation after;
  Move move;
  std::vector<Hazard> hazards;         ///< of the situation that it would make
  std::size_t interlock = site::none;  ///< index into Site::interlocks
  int moves_left = 0;                  ///< at least as many more would reach the goal
};

/// What came of a search.
struct Sequence {
  enum class Answer {
    found,
    none,         ///< every situation that can be reached safely was looked at
    not_decided,  ///< there are more situations than were looked at; none was found among those
    unsafe_start  ///< the situation to begin with is not safe itself
  };
  Answer answer = Answer::none;
  std::vector<SequenceStep> steps;
  int cost = 0;
  bool shortest = true;    ///< false: a shorter one by other switches was not ruled out
  bool none_near = false;  ///< what changes over or is interlocked alone surely does not do it
  std::size_t looked_at = 0;
  std::optional<Refusal> refusal;    ///< the one nearest to the goal, unless found
  std::vector<Hazard> start_hazard;  ///< unsafe_start
};

/// What makes one of several sequences of the same length the better one.
struct Preferences {
  std::vector<std::size_t> loads_kept;  ///< elements, to be dead for as few steps as can be
  std::vector<std::size_t> stop_first;  ///< indices into network.sources: stopped before switching
};

/// What a search works on; everything must outlive it.
struct SearchTask {
  const Network& network;
  const site::Site& site;
  const Movement& movement;
  const HazardScope& scope;
  Preferences preferences = {};
  std::size_t most = 4000;  ///< situations looked at before the search gives up
};

/// Whether a sequence may move this switch: a person or a controller can, and it is not the
/// distributor's own fuse.
bool may_be_moved(const SearchTask& task, int by);

/// Positions that one movement leads to. A changeover with an off position passes through it.
std::vector<int> next_positions(const Network& network, const Freedom& freedom, int by, int at);

/// The situation after a move, contacts that follow a law included.
Situation after_move(const SearchTask& task, Situation situation, const Move& move);

/// What one move costs: a hundred, and more where the trade avoids it (load switched by a device
/// that is not made for it, a generator started or stopped under load, a contactor moved while
/// what drives it stands still, circuits dead for longer than they must be).
int cost_of(const SearchTask& task, const Situation& before, const Move& move);

/// The cheapest sequence of moves from one situation to the goal through situations without any
/// hazard, also without one that hangs on what the file does not say, that no interlock forbids.
/// Where the goal has the supply otherwise, its loss or return is the first step.
Sequence find_sequence(const SearchTask& task, const Situation& from, const Goal& goal);

}  // namespace linewright::network
