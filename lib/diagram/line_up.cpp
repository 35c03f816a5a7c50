#include <algorithm>
#include <limits>

#include "diagram/order.hpp"
#include "diagram/standing.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double bar_end = 2.5;

/// What one call of line_up works on.
struct Draft {
  const Standing& standing;
  Ordered& out;
  std::vector<std::size_t> sequence;  ///< groups from left to right

  const OrderInput& in() const { return standing.input; }
  void separate(std::size_t before, std::size_t after, double least, bool airy = false) {
    out.line.separations.push_back({before, after, least, airy});
  }
};

void keep_groups_apart(Draft& draft) {
  const Arrangement& arrangement = draft.in().arrangement;
  const auto& groups = arrangement.groups;
  for (std::size_t row = 0; row < arrangement.rows.count(); ++row) {
    std::size_t left = none;
    for (const std::size_t group : draft.sequence) {
      if (!groups[group].rows[row]) continue;
      if (left != none)
        draft.separate(
            left, group,
            groups[left].rows[row]->right + draft.in().gap + groups[group].rows[row]->left, true);
      left = group;
    }
  }
}

Interval<std::size_t> frame_up(Draft& draft, std::size_t index) {
  const std::vector<std::size_t>& position = draft.out.position;
  const std::vector<InFrame>& frame = draft.standing.frames[index];
  const Interval<std::size_t> reach = reach_of(frame, position);
  const std::size_t left = draft.out.variables.frame_left(index);
  const std::size_t right = draft.out.variables.frame_right(index);
  const double gap = draft.in().gap;
  for (const InFrame& present : frame) {
    const std::size_t at = position[present.group];
    if (present.inside) {
      draft.separate(left, present.group, present.room.left + gap + 1.25);
      draft.separate(present.group, right, present.room.right + gap);
    } else if (!reach.any || at < reach.low) {
      draft.separate(present.group, left, present.room.right + gap, true);
    } else if (at > reach.high) {
      draft.separate(right, present.group, present.room.left + gap, true);
    }
  }
  return reach;
}

// A frame with one line from above keeps its name left of that line; a reference right of it.
void keep_name_clear(Draft& draft, std::size_t index) {
  const Plan& plan = draft.in().plan;
  const Arrangement& arrangement = draft.in().arrangement;
  const Measures& measures = draft.in().measures;
  const double gap = draft.in().gap;
  const double name = measures.frame_names[index];
  std::size_t entering = none;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    if (plan.hubs[plan.chains[c].lower].frame != index ||
        plan.hubs[plan.chains[c].upper].frame == index)
      continue;
    if (entering != none) return;
    entering = c;
  }
  if (entering == none || name <= 0.0) return;
  const std::size_t group = arrangement.group_of[entering];
  const double offset = arrangement.offset_of[entering];
  const std::size_t left = draft.out.variables.frame_left(index);
  const std::size_t right = draft.out.variables.frame_right(index);
  if (plan.hubs[plan.chains[entering].lower].kind == HubKind::reference_out) {
    constexpr double before_words = 2.5;
    draft.separate(group, right, offset + before_words + name + std::max(gap, 1.25));
    return;
  }
  const double device = measures.chains[entering].lower.extent.left;
  constexpr double both_above = 10.0;  // where the name of a bar has room below that of its frame
  const std::size_t entry = arrangement.rows.below(plan.frames[index].tier, 0);
  const double bar = measures.bar_names[index] + bar_end;
  const double words = arrangement.row_heights[entry] >= both_above
                           ? std::max(name * draft.in().name_share, bar)
                           : name * draft.in().name_share + bar;
  draft.separate(left, group, 2.0 * gap + words + device - offset);
}

void keep_frames_apart(Draft& draft) {
  const auto& frames = draft.in().plan.frames;
  std::vector<Interval<std::size_t>> intervals;
  for (std::size_t f = 0; f < frames.size(); ++f) {
    intervals.push_back(frame_up(draft, f));
    keep_name_clear(draft, f);
  }
  for (std::size_t a = 0; a < frames.size(); ++a) {
    for (std::size_t b = 0; b < frames.size(); ++b) {
      if (a == b || frames[a].tier != frames[b].tier) continue;
      if (!intervals[a].any || !intervals[b].any) continue;
      if (intervals[a].high < intervals[b].low)
        draft.separate(draft.out.variables.frame_right(a), draft.out.variables.frame_left(b),
                       2.0 * draft.in().gap, true);
    }
  }
}

// A bar reaches over its own columns; others pass beside it or cross it.
void lay_bar(Draft& draft, const BarColumns& bar) {
  const std::vector<std::size_t>& position = draft.out.position;
  const Interval<Key> reach = reach_of(bar, position);
  if (!reach.any) return;
  const Hub& hub = draft.in().plan.hubs[bar.hub];
  const double gap = draft.in().gap;
  const double end = hub.kind == HubKind::bar ? bar_end : 0.0;
  const Variables& variables = draft.out.variables;
  const std::size_t left = variables.bar_left(bar.hub);
  const std::size_t right = variables.bar_right(bar.hub);
  const auto& ends = draft.in().measures.bar_ends;
  const Extent beside = hub.frame < ends.size() ? ends[hub.frame] : Extent{};
  draft.separate(variables.frame_left(hub.frame), left, bar_end + beside.left);
  draft.separate(right, variables.frame_right(hub.frame), bar_end + beside.right);
  for (const AtBar& column : bar.columns) {
    if (column.own) {
      draft.separate(left, column.group, end - column.offset);
      draft.separate(column.group, right, end + column.offset);
      continue;
    }
    if (column.with_own) continue;  // their distance is fixed already
    const Key key = key_of(column, position);
    if (key < reach.low)
      draft.separate(column.group, left, gap + column.offset);
    else if (key > reach.high)
      draft.separate(right, column.group, gap - column.offset);
  }
}

void lay_bars(Draft& draft) {
  std::vector<Interval<Key>> reaches;
  for (const BarColumns& bar : draft.standing.bars) {
    lay_bar(draft, bar);
    reaches.push_back(reach_of(bar, draft.out.position));
  }
  const Variables& variables = draft.out.variables;
  for (const auto& [a, b] : draft.standing.bar_pairs) {
    if (!reaches[a].any || !reaches[b].any) continue;
    const std::size_t one = draft.standing.bars[a].hub;
    const std::size_t other = draft.standing.bars[b].hub;
    const double apart = 2.0 * draft.in().gap;
    if (reaches[a].high < reaches[b].low)
      draft.separate(variables.bar_right(one), variables.bar_left(other), apart);
    else if (reaches[b].high < reaches[a].low)
      draft.separate(variables.bar_right(other), variables.bar_left(one), apart);
  }
}

// The throw that comes from the left goes to the left port, the other to the right one.
void reach_throws(Draft& draft, const ThrowColumns& changeover) {
  constexpr double port = 5.0;
  const std::size_t own = changeover.group;
  const Key here{draft.out.position[own], 0.0};
  const std::vector<AtBar> ways = throws_in(changeover, draft.out.position);
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const std::size_t group = ways[i].group;
    const Key key = key_of(ways[i], draft.out.position);
    const bool left = i == 0;
    if (group == own || (left ? here < key : key < here)) continue;
    const double reach = port + (left ? ways[i].offset : -ways[i].offset);
    draft.separate(left ? group : own, left ? own : group, reach);
    draft.out.line.pulls.push_back({left ? group : own, left ? own : group, reach, 2.0});
  }
}

double cost_of(const Faults& faults) {
  return 4000.0 * (faults.frames + faults.bars + faults.throws) + 60.0 * faults.bar_crossings +
         25.0 * faults.crossings + 6.0 * faults.out_of_order;
}

double cost_of(const Ordered& ordered, const Standing& standing) {
  const std::vector<double> places = leftmost(ordered.line, 0.0, standing.input.grid);
  double cost = 30.0 * excess(ordered.line, places);
  double width = 0.0;
  for (const double place : places)
    width = std::max(width, place);
  cost += 0.2 * width;
  for (const BarColumns& bar : standing.bars)
    cost += 0.05 * std::max(0.0, places[ordered.variables.bar_right(bar.hub)] -
                                     places[ordered.variables.bar_left(bar.hub)]);
  for (const Pull& pull : ordered.line.pulls)
    cost += 0.05 * std::abs(places[pull.b] - places[pull.a] - pull.offset);
  return cost;
}

}  // namespace

std::vector<std::size_t> throws_of(const OrderInput& input, std::size_t hub,
                                   const std::vector<std::size_t>& position) {
  std::vector<std::size_t> ways;
  for (std::size_t c = 0; c < input.plan.chains.size(); ++c)
    if (input.plan.chains[c].lower == hub) ways.push_back(c);
  const auto key = [&](std::size_t chain) {
    return Key{position[input.arrangement.group_of[chain]], input.arrangement.offset_of[chain]};
  };
  std::stable_sort(ways.begin(), ways.end(),
                   [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return ways;
}

Ordered line_up(const Standing& standing, const std::vector<std::size_t>& position, double limit) {
  Ordered ordered;
  ordered.faults = count_faults(standing, position);
  ordered.cost = cost_of(ordered.faults);
  if (ordered.cost >= limit) return ordered;
  ordered.position = position;
  ordered.variables = standing.variables;
  ordered.line = standing.line;
  ordered.line.separations.reserve(128 + 64 * position.size());
  Draft draft{.standing = standing, .out = ordered, .sequence = {}};
  draft.sequence.resize(position.size());
  for (std::size_t g = 0; g < position.size(); ++g)
    draft.sequence[position[g]] = g;
  keep_groups_apart(draft);
  keep_frames_apart(draft);
  lay_bars(draft);
  for (const ThrowColumns& changeover : standing.throws)
    reach_throws(draft, changeover);
  ordered.cost += cost_of(ordered, standing);
  return ordered;
}

}  // namespace linewright::diagram
