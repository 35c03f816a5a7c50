#include "network/sequence.hpp"

#include <algorithm>
#include <map>
#include <queue>
#include <string>
#include <tuple>

namespace linewright::network {
namespace {

constexpr int one_move = 100;  // the least that a move costs

/// A situation in as few bytes as it takes to tell it from others; contacts that follow a law are
/// left out, since they follow from the rest.
std::string key_of(const Movement& movement, const Situation& situation) {
  std::string key;
  for (std::size_t s = 0; s < movement.of.size(); ++s)
    if (movement.of[s].mover != Mover::law) key += static_cast<char>(situation.positions.of[s] + 1);
  for (const bool runs : situation.running)
    key += runs ? '1' : '0';
  return key;
}

Situation situation_from(const SearchTask& task, const std::string& key) {
  Situation situation;
  std::size_t at = 0;
  for (std::size_t s = 0; s < task.movement.of.size(); ++s)
    situation.positions.of.push_back(task.movement.of[s].mover == Mover::law
                                         ? task.network.switches[s].rest
                                         : static_cast<int>(key[at++]) - 1);
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    situation.running.push_back(key[at++] == '1');
  follow_laws(task.network, task.site, task.movement, situation);
  return situation;
}

std::vector<Hazard> dangers(const SearchTask& task, const Situation& situation) {
  // Tracing fault loops is the dear part: asked only where nothing else is wrong.
  HazardScope cheap = task.scope;
  cheap.loads_with_rcd.clear();
  std::vector<Hazard> found = hazards_in(task.network, task.site, situation, cheap);
  if (found.empty() && !task.scope.loads_with_rcd.empty())
    found = hazards_in(task.network, task.site, situation, task.scope);
  return found;
}

/// The situation right after the supply has failed or returned, before anyone acts.
Situation with_supply(const SearchTask& task, Situation situation, bool alive) {
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    if (task.network.sources[s].utility) situation.running[s] = alive;
  follow_laws(task.network, task.site, task.movement, situation);
  return situation;
}

/// Fewest moves of one switch between two of its positions.
int moves_of_switch(const SearchTask& task, std::size_t by, int from, int to) {
  if (from == to) return 0;
  const auto next = next_positions(task.network, task.movement.of[by], static_cast<int>(by), from);
  return std::ranges::count(next, to) > 0 ? 1 : 2;
}

int moves_left(const SearchTask& task, const Goal& goal, const Situation& situation) {
  int moves = 0;
  for (std::size_t s = 0; s < goal.positions.size(); ++s) {
    const int at = situation.positions.of[s];
    moves += moves_of_switch(task, s, at, goal.positions[s].value_or(at));
  }
  for (std::size_t s = 0; s < goal.running.size(); ++s) {
    const bool runs = situation.running[s];
    if (!task.network.sources[s].utility && goal.running[s].value_or(runs) != runs) ++moves;
  }
  return moves;
}

/// What the moves of one search are chosen from.
struct Choice {
  std::vector<bool> switches;
  std::vector<bool> sources;
};

/// When a device is opened: those on direct current after all others.
int opening_rank(const SearchTask& task, std::size_t by) {
  const site::Element& element = task.site.elements[task.network.switches[by].element];
  return (element.conductors & site::direct_current).empty() ? 2 : 3;
}

/// All moves that the choice allows, those first that the trade does first: sources started while
/// nothing hangs on them, inverters stopped, then what opens (AC before batteries and PV), then
/// what closes, then generators stopped. Equal costs are decided by this order.
std::vector<Move> moves_from(const SearchTask& task, const Choice& choice,
                             const Situation& situation) {
  std::vector<std::pair<int, Move>> ranked;
  for (std::size_t s = 0; s < choice.sources.size(); ++s) {
    if (!choice.sources[s]) continue;
    const site::Element& element = task.site.elements[task.network.sources[s].element];
    const bool generator = site::facts<site::Generator>(element) != nullptr;
    const bool runs = situation.running[s];
    const int stop_rank = generator ? 5 : 1;
    ranked.emplace_back(runs ? stop_rank : 0,
                        Move{runs ? Move::Kind::stop : Move::Kind::start, -1, -1, s});
  }
  for (std::size_t s = 0; s < choice.switches.size(); ++s) {
    if (!choice.switches[s]) continue;
    const int by = static_cast<int>(s);
    const int opens = opening_rank(task, s);
    for (const int to :
         next_positions(task.network, task.movement.of[s], by, situation.positions.of[s]))
      ranked.emplace_back(is_open_position(task.network, by, to) ? opens : 4,
                          Move{Move::Kind::put, by, to});
  }
  std::ranges::stable_sort(ranked, {}, [](const auto& one) { return one.first; });
  std::vector<Move> moves;
  for (const auto& [rank, move] : ranked)
    moves.push_back(move);
  return moves;
}

/// One search by A*: cheapest first, by what was paid and the least that is still to pay. What is
/// taken from the queue is looked at then, not when it is put there, so that a straight way costs
/// no more looks than it has steps.
class Search {
 public:
  Search(const SearchTask& task, const Goal& goal, Choice choice, int cheaper_than)
      : task_(task), goal_(goal), choice_(std::move(choice)), cheaper_than_(cheaper_than) {}

  enum class End { found, exhausted, gave_up };

  End run(const Situation& start, std::size_t most) {
    offer(key_of(task_.movement, start), 0, nowhere, Move{}, start);
    while (!queue_.empty()) {
      const std::size_t at = std::get<3>(queue_.top());
      queue_.pop();
      if (nodes_[at].done) continue;
      if (looked_at_ == most) return End::gave_up;
      if (visit(at)) return End::found;
    }
    return End::exhausted;
  }

  int cost() const { return nodes_[last_].paid; }
  std::size_t looked_at() const { return looked_at_; }
  const std::optional<Refusal>& refusal() const { return refusal_; }

  std::vector<Move> moves() const {
    std::vector<Move> moves;
    for (std::size_t at = last_; nodes_[at].before != nowhere; at = nodes_[at].before)
      moves.push_back(nodes_[at].move);
    std::ranges::reverse(moves);
    return moves;
  }

 private:
  struct Node {
    std::string key;
    int paid = 0;
    std::size_t before = 0;
    Move move;
    bool done = false;
  };

  /// Looks at one situation; true if it is the goal, else its neighbours are offered if it is safe.
  bool visit(std::size_t at) {
    nodes_[at].done = true;
    const Situation here = situation_from(task_, nodes_[at].key);
    ++looked_at_;
    if (std::vector<Hazard> hazards = dangers(task_, here); !hazards.empty()) {
      refuse(at, here, std::move(hazards));
      return false;
    }
    if (moves_left(task_, goal_, here) == 0 && lasts(at, here)) {
      last_ = at;
      return true;
    }
    for (const Move& move : moves_from(task_, choice_, here)) {
      const Situation next = after_move(task_, here, move);
      const int paid = nodes_[at].paid + cost_of(task_, here, move);
      if (const std::size_t lock = forbidden_by(task_.movement, next); lock != site::none)
        refuse({.before = here,
                .after = next,
                .move = move,
                .interlock = lock,
                .moves_left = moves_left(task_, goal_, next)});
      else
        offer(key_of(task_.movement, next), paid, at, move, next);
    }
    return false;
  }

  bool lasts(std::size_t at, const Situation& here) {
    if (!goal_.outlasts_supply) return true;
    for (const bool alive : {false, true}) {
      std::vector<Hazard> hazards = dangers(task_, with_supply(task_, here, alive));
      if (hazards.empty()) continue;
      refuse(at, here, std::move(hazards));
      return false;
    }
    return true;
  }

  void refuse(std::size_t at, const Situation& here, std::vector<Hazard> hazards) {
    if (nodes_[at].before == nowhere) return;
    refuse({.before = situation_from(task_, nodes_[nodes_[at].before].key),
            .after = here,
            .move = nodes_[at].move,
            .hazards = std::move(hazards),
            .moves_left = moves_left(task_, goal_, here)});
  }

  void refuse(Refusal refusal) {
    if (!refusal_ || refusal.moves_left < refusal_->moves_left) refusal_ = std::move(refusal);
  }

  void offer(const std::string& key, int paid, std::size_t before, const Move& move,
             const Situation& there) {
    const int least = paid + one_move * moves_left(task_, goal_, there);
    if (least >= cheaper_than_) return;  // before its key is kept: a key must have its node
    const auto [place, fresh] = by_key_.try_emplace(key, nodes_.size());
    if (!fresh && (nodes_[place->second].done || nodes_[place->second].paid <= paid)) return;
    place->second = nodes_.size();
    nodes_.push_back({key, paid, before, move});
    queue_.emplace(-least, paid, -static_cast<long>(nodes_.size()), nodes_.size() - 1);
  }

  static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
  const SearchTask& task_;
  const Goal& goal_;
  Choice choice_;
  int cheaper_than_;
  std::vector<Node> nodes_;
  std::map<std::string, std::size_t> by_key_;
  std::priority_queue<std::tuple<int, int, long, std::size_t>> queue_;
  std::size_t last_ = nowhere;
  std::size_t looked_at_ = 0;
  std::optional<Refusal> refusal_;
};

Choice everything(const SearchTask& task, const Goal& goal) {
  Choice choice;
  for (std::size_t s = 0; s < task.network.switches.size(); ++s)
    choice.switches.push_back(may_be_moved(task, static_cast<int>(s)));
  for (std::size_t s = 0; s < task.network.sources.size(); ++s) {
    const SourcePoint& source = task.network.sources[s];
    choice.sources.push_back(!source.utility && (source.forming || goal.running[s].has_value()));
  }
  return choice;
}

/// Switches that the way itself or an interlock is about, and whatever changes over.
Choice nearest_at_hand(const SearchTask& task, const Goal& goal, const Situation& start) {
  Choice choice = everything(task, goal);
  for (std::size_t s = 0; s < choice.switches.size(); ++s) {
    const int stands = start.positions.of[s];
    const bool differs = goal.positions[s].value_or(stands) != stands;
    const auto names_it = [&](const SwitchAt& at) { return at.by == static_cast<int>(s); };
    const bool locked = std::ranges::any_of(task.movement.barriers, [&](const Barrier& barrier) {
      return std::ranges::any_of(barrier.never_together, names_it);
    });
    const auto* device =
        site::facts<site::Device>(task.site.elements[task.network.switches[s].element]);
    const bool changes_over = device != nullptr && (device->kind == site::DeviceKind::changeover ||
                                                    device->kind == site::DeviceKind::contactor);
    if (!differs && !locked && !changes_over) choice.switches[s] = false;
  }
  return choice;
}

std::vector<SwitchAt> followed_laws(const SearchTask& task, const Situation& before,
                                    const Situation& after) {
  std::vector<SwitchAt> followed;
  for (std::size_t s = 0; s < task.movement.of.size(); ++s)
    if (task.movement.of[s].mover == Mover::law && before.positions.of[s] != after.positions.of[s])
      followed.push_back({static_cast<int>(s), after.positions.of[s]});
  return followed;
}

SequenceStep step_of(const SearchTask& task, const Situation& before, const Move& move) {
  SequenceStep step{.move = move, .after = after_move(task, before, move)};
  step.by_itself = followed_laws(task, before, step.after);
  return step;
}

/// Moves that were made one after the other, and how the site stands then.
struct Course {
  std::vector<Move> moves;
  Situation after;
};

/// Every course with one more allowed move.
std::vector<Course> one_more(const SearchTask& task, const Choice& choice,
                             const std::vector<Course>& courses) {
  std::vector<Course> longer;
  for (const Course& course : courses)
    for (const Move& move : moves_from(task, choice, course.after)) {
      Course next{.moves = course.moves, .after = after_move(task, course.after, move)};
      if (forbidden_by(task.movement, next.after) != site::none) continue;
      next.moves.push_back(move);
      longer.push_back(std::move(next));
    }
  return longer;
}

/// Fewest moves of controllers that make a situation safe, nearest to the goal among equals.
/// Coils that lose their supply are moves of theirs as well.
std::optional<Course> controllers_answer(const SearchTask& task, const Goal& goal,
                                         const Situation& shaken) {
  constexpr int most_moves = 3;
  Choice choice{.switches = {}, .sources = std::vector<bool>(task.network.sources.size(), false)};
  for (const Freedom& freedom : task.movement.of)
    choice.switches.push_back(freedom.mover == Mover::controller || freedom.mover == Mover::both);
  std::vector<Course> courses{{.moves = {}, .after = shaken}};
  for (int depth = 0; depth < most_moves; ++depth) {
    courses = one_more(task, choice, courses);
    const Course* best = nullptr;
    for (const Course& course : courses)
      if (dangers(task, course.after).empty() &&
          (best == nullptr ||
           moves_left(task, goal, course.after) < moves_left(task, goal, best->after)))
        best = &course;
    if (best != nullptr) return *best;
  }
  return std::nullopt;
}

/// The step in which the supply fails or returns, if the goal has it otherwise.
std::optional<SequenceStep> event_before(const SearchTask& task, const Goal& goal,
                                         const Situation& from) {
  for (std::size_t s = 0; s < goal.running.size(); ++s) {
    const std::optional<bool>& wanted = goal.running[s];
    if (!task.network.sources[s].utility || !wanted || *wanted == from.running[s]) continue;
    const auto kind = from.running[s] ? Move::Kind::supply_fails : Move::Kind::supply_returns;
    SequenceStep step = step_of(task, from, {kind, -1, -1, s});
    step.passing = dangers(task, step.after);
    if (step.passing.empty()) return step;
    if (auto answer = controllers_answer(task, goal, step.after)) {
      step.followed_by = std::move(answer->moves);
      step.after = std::move(answer->after);
      step.by_itself = followed_laws(task, from, step.after);
    }
    return step;
  }
  return std::nullopt;
}

void fill(const SearchTask& task, const Search& search, const Situation& start,
          Sequence& sequence) {
  sequence.answer = Sequence::Answer::found;
  sequence.cost = search.cost();
  for (const Move& move : search.moves()) {
    const Situation before = sequence.steps.empty() ? start : sequence.steps.back().after;
    sequence.steps.push_back(step_of(task, before, move));
  }
}

/// The goal itself, if an interlock forbids it or, being told in full, it is not safe: then no
/// search is needed. The move is the last that is missing.
std::optional<Refusal> wrong_goal(const SearchTask& task, const Situation& start,
                                  const Goal& goal) {
  Situation end = start;
  bool full = true;
  for (std::size_t s = 0; s < goal.positions.size(); ++s) {
    end.positions.of[s] = goal.positions[s].value_or(end.positions.of[s]);
    if (!goal.positions[s] && task.movement.of[s].mover != Mover::law) full = false;
  }
  for (std::size_t s = 0; s < goal.running.size(); ++s)
    if (!task.network.sources[s].utility) end.running[s] = goal.running[s].value_or(end.running[s]);
  follow_laws(task.network, task.site, task.movement, end);
  const auto moves = moves_between(task.network, task.movement, start, end);
  if (!full || moves.empty()) return std::nullopt;
  Refusal refusal{.before = start, .after = end, .move = moves.back(), .hazards = {}};
  refusal.interlock = forbidden_by(task.movement, end);
  if (refusal.interlock == site::none) refusal.hazards = dangers(task, end);
  if (refusal.interlock == site::none && refusal.hazards.empty()) return std::nullopt;
  for (const Move& move : moves)
    if (!(move == refusal.move)) refusal.before = after_move(task, refusal.before, move);
  return refusal;
}

}  // namespace

Goal goal_of(const Network& network, const Movement& movement, const Situation& situation) {
  Goal goal;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const int at = situation.positions.of[s];
    const bool asked = movement.of[s].mover != Mover::law && at != unknown;
    goal.positions.push_back(asked ? std::optional<int>(at) : std::nullopt);
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    goal.running.push_back(network.sources[s].forming ? std::optional<bool>(situation.running[s])
                                                      : std::nullopt);
  return goal;
}

Sequence find_sequence(const SearchTask& task, const Situation& from, const Goal& goal) {
  Sequence sequence;
  Situation start = from;
  follow_laws(task.network, task.site, task.movement, start);
  sequence.start_hazard = dangers(task, start);
  if (!sequence.start_hazard.empty()) {
    sequence.answer = Sequence::Answer::unsafe_start;
    return sequence;
  }
  if (auto event = event_before(task, goal, start)) {
    const auto left = dangers(task, event->after);
    if (!left.empty()) {
      sequence.refusal = Refusal{.before = start,
                                 .after = event->after,
                                 .move = event->move,
                                 .hazards = left,
                                 .moves_left = moves_left(task, goal, event->after)};
      return sequence;
    }
    start = event->after;
    sequence.steps.push_back(std::move(*event));
  }
  if (auto wrong = wrong_goal(task, start, goal)) {
    sequence.refusal = std::move(wrong);
    sequence.steps.clear();
    return sequence;
  }
  constexpr int any_cost = 1'000'000'000;
  Search near(task, goal, nearest_at_hand(task, goal, start), any_cost);
  const Search::End first = near.run(start, task.most);
  const int bound = first == Search::End::found ? near.cost() : any_cost;
  Search wide(task, goal, everything(task, goal), bound);
  const Search::End second = wide.run(start, task.most);
  sequence.looked_at = near.looked_at() + wide.looked_at();
  sequence.shortest = second != Search::End::gave_up;
  if (second == Search::End::found) {
    fill(task, wide, start, sequence);
  } else if (first == Search::End::found) {
    fill(task, near, start, sequence);
  } else {
    const bool complete = second == Search::End::exhausted;
    sequence.none_near = first == Search::End::exhausted;
    sequence.answer = complete ? Sequence::Answer::none : Sequence::Answer::not_decided;
    sequence.refusal = wide.refusal() && (!near.refusal() ||
                                          wide.refusal()->moves_left < near.refusal()->moves_left)
                           ? wide.refusal()
                           : near.refusal();
    sequence.steps.clear();
  }
  return sequence;
}

}  // namespace linewright::network
