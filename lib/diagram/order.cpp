#include "diagram/order.hpp"

#include <algorithm>

#include "diagram/standing.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using Sequence = std::vector<std::size_t>;  ///< groups from left to right

std::vector<std::size_t> positions(const Sequence& sequence) {
  std::vector<std::size_t> position(sequence.size());
  for (std::size_t i = 0; i < sequence.size(); ++i)
    position[sequence[i]] = i;
  return position;
}

// Depth first from the supply: what hangs from a bar before what it feeds; then the other sources.
struct Walk {
  const OrderInput& input;
  Sequence sequence;
  std::vector<bool> seen_hub;
  std::vector<bool> seen_group;

  void take(std::size_t group) {
    if (group == none || seen_group[group]) return;
    seen_group[group] = true;
    sequence.push_back(group);
    for (const Member& member : input.arrangement.groups[group].members)
      visit(input.plan.chains[member.chain].lower);
  }

  void visit(std::size_t hub) {
    if (seen_hub[hub]) return;
    seen_hub[hub] = true;
    for (std::size_t g = 0; g < input.arrangement.groups.size(); ++g)
      if (input.arrangement.groups[g].hub == hub) take(g);
    for (const bool circuits : {true, false}) {
      for (std::size_t c = 0; c < input.plan.chains.size(); ++c) {
        const std::size_t group = input.arrangement.group_of[c];
        if (input.plan.chains[c].upper == hub &&
            input.arrangement.groups[group].circuits == circuits)
          take(group);
      }
    }
  }
};

Sequence first_sequence(const OrderInput& input) {
  Walk walk{.input = input,
            .sequence = {},
            .seen_hub = std::vector<bool>(input.plan.hubs.size(), false),
            .seen_group = std::vector<bool>(input.arrangement.groups.size(), false)};
  for (std::size_t h = 0; h < input.plan.hubs.size(); ++h)
    if (input.plan.hubs[h].kind == HubKind::supply) walk.visit(h);
  for (std::size_t h = 0; h < input.plan.hubs.size(); ++h)
    if (is_source(input.plan.hubs[h])) walk.visit(h);
  for (std::size_t g = 0; g < input.arrangement.groups.size(); ++g)
    walk.take(g);
  return walk.sequence;
}

Sequence moved(const Sequence& sequence, std::size_t from, std::size_t length, std::size_t to) {
  Sequence result = sequence;
  const auto begin = result.begin() + static_cast<std::ptrdiff_t>(from);
  const auto end = begin + static_cast<std::ptrdiff_t>(length);
  if (to < from) {
    std::rotate(result.begin() + static_cast<std::ptrdiff_t>(to), begin, end);
  } else {
    std::rotate(begin, end, end + static_cast<std::ptrdiff_t>(to - from));
  }
  return result;
}

// Depth first, all that hangs from a hub in the order of the file.
Sequence tree_sequence(const OrderInput& input) {
  const auto& groups = input.arrangement.groups;
  std::vector<Sequence> below(input.plan.hubs.size());
  Sequence waiting;
  for (std::size_t g = groups.size(); g > 0; --g) {
    const ColumnGroup& group = groups[g - 1];
    const std::size_t hub =
        group.hub != none ? group.hub : input.plan.chains[group.members.front().chain].upper;
    below[hub].push_back(g - 1);
    if (is_source(input.plan.hubs[hub])) waiting.push_back(g - 1);
  }
  Sequence sequence;
  while (!waiting.empty()) {
    const std::size_t group = waiting.back();
    waiting.pop_back();
    sequence.push_back(group);
    for (auto member = groups[group].members.rbegin(); member != groups[group].members.rend();
         ++member) {
      const Sequence& next = below[input.plan.chains[member->chain].lower];
      waiting.insert(waiting.end(), next.begin(), next.end());
    }
  }
  return sequence;
}

// The best move of a run of `length` groups, taken as long as one lowers the cost.
bool improve(const Standing& standing, std::size_t length, Sequence& sequence, Ordered& best) {
  constexpr double worth_it = 1e-6;
  bool any = false;
  for (std::size_t from = 0; from + length <= sequence.size(); ++from) {
    Sequence found = sequence;
    for (std::size_t to = 0; to + length <= sequence.size(); ++to) {
      if (to == from) continue;
      const Sequence trial = moved(sequence, from, length, to);
      Ordered ordered = line_up(standing, positions(trial), best.cost);
      if (ordered.cost >= best.cost - worth_it) continue;
      best = std::move(ordered);
      found = trial;
      any = true;
    }
    sequence = found;
  }
  return any;
}

// Moves groups and runs of groups until none lowers the cost.
Ordered settled(const Standing& standing, Sequence sequence) {
  Ordered best = line_up(standing, positions(sequence));
  constexpr std::size_t longest_run = 6;
  constexpr int rounds = 12;
  for (int round = 0; round < rounds; ++round) {
    bool any = false;
    for (std::size_t length = 1; length <= std::min(longest_run, sequence.size()); ++length)
      any = improve(standing, length, sequence, best) || any;
    if (!any) break;
  }
  return best;
}

// Further starts for a sheet that is nearly wide enough: the first one turned by quarters, at last
// mirrored.
Sequence another_start(const Sequence& first, std::size_t part) {
  Sequence sequence = first;
  if (part >= 4) {
    std::reverse(sequence.begin(), sequence.end());
    return sequence;
  }
  const auto turn = static_cast<std::ptrdiff_t>(sequence.size() * part / 4);
  std::rotate(sequence.begin(), sequence.begin() + turn, sequence.end());
  return sequence;
}

Sequence sequence_of(const std::vector<std::size_t>& position) {
  Sequence sequence(position.size());
  for (std::size_t g = 0; g < position.size(); ++g)
    sequence[position[g]] = g;
  return sequence;
}

// An order with everything from one throw of a changeover to the other turned round: no move of a
// single run gets there without a worse picture in between.
Sequence turned_at(const ThrowColumns& changeover, const std::vector<std::size_t>& position) {
  Sequence sequence = sequence_of(position);
  const std::vector<AtBar> ways = throws_in(changeover, position);
  if (ways.size() < 2) return sequence;
  const auto begin = sequence.begin();
  std::reverse(begin + static_cast<std::ptrdiff_t>(position[ways.front().group]),
               begin + static_cast<std::ptrdiff_t>(position[ways.back().group]) + 1);
  return sequence;
}

// Tries each changeover the other way round while something crosses in an order that has room.
Ordered with_throws_turned(const Standing& standing, Ordered best) {
  for (const ThrowColumns& changeover : standing.throws) {
    if (best.faults.bar_crossings + best.faults.crossings == 0) break;
    Ordered other = settled(standing, turned_at(changeover, best.position));
    if (other.cost < best.cost) best = std::move(other);
  }
  return best;
}

}  // namespace

Ordered choose_order(const OrderInput& input) {
  const Standing standing = standing_of(input);
  if (is_tree(input.plan)) {
    const Sequence sequence = tree_sequence(input);
    if (sequence.size() == input.arrangement.groups.size()) {
      Ordered ordered = line_up(standing, positions(sequence));
      if (worst_excess(ordered.line, leftmost(ordered.line, 0.0, input.grid)) <= 1e-6)
        return ordered;
    }
  }
  const bool has_start = input.start.size() == input.arrangement.groups.size();
  const Sequence start = has_start ? sequence_of(input.start) : first_sequence(input);
  Ordered best = settled(standing, start);
  constexpr double near_miss = 25.0;
  const auto another_may_help = [&] {
    const Faults& faults = best.faults;
    if (faults.frames + faults.bars + faults.throws > 0) return true;
    if (!input.thorough) return false;
    const double missing = worst_excess(best.line, leftmost(best.line, 0.0, Grid::ignored));
    return missing > 1e-6 && missing <= near_miss;
  };
  for (std::size_t part = 1; part <= 4 && another_may_help(); ++part) {
    Ordered other = settled(standing, another_start(start, part));
    if (other.cost < best.cost) best = std::move(other);
  }
  const double missing = worst_excess(best.line, leftmost(best.line, 0.0, Grid::kept));
  return missing > 1e-6 ? best : with_throws_turned(standing, std::move(best));
}

}  // namespace linewright::diagram
