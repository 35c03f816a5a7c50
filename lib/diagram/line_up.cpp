#include <algorithm>
#include <limits>

#include "diagram/order.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double bar_end = 2.5;

/// A column's place in an order: position of its group, then offset inside it.
struct Key {
  std::size_t position;
  double offset;
  friend auto operator<=>(const Key&, const Key&) = default;
};

/// What one call of line_up works on.
struct Draft {
  const OrderInput& in;
  Ordered& out;
  std::vector<std::size_t> sequence;  ///< groups from left to right

  Key key(std::size_t chain) const {
    return {out.position[in.arrangement.group_of[chain]], in.arrangement.offset_of[chain]};
  }
  void separate(std::size_t before, std::size_t after, double least, bool airy = false) {
    out.line.separations.push_back({before, after, least, airy});
  }
};

bool ends_in(const Plan& plan, const Chain& chain, std::size_t frame) {
  return plan.hubs[chain.upper].frame == frame || plan.hubs[chain.lower].frame == frame;
}

std::size_t first_row(const Rows& rows, const Frame& frame) {
  return rows.below(frame.tier, 0);
}

std::size_t last_row(const Rows& rows, const Frame& frame) {
  return rows.below(frame.tier, frame.ranks);
}

void keep_groups_apart(Draft& draft) {
  const auto& groups = draft.in.arrangement.groups;
  for (std::size_t row = 0; row < draft.in.arrangement.rows.count(); ++row) {
    std::size_t left = none;
    for (const std::size_t group : draft.sequence) {
      if (!groups[group].rows[row]) continue;
      if (left != none)
        draft.separate(left, group,
                       groups[left].rows[row]->right + draft.in.gap + groups[group].rows[row]->left,
                       true);
      left = group;
    }
  }
}

void keep_inside_area(Draft& draft) {
  const auto& arrangement = draft.in.arrangement;
  const Area& area = draft.in.area;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    for (std::size_t row = 0; row < arrangement.rows.count(); ++row) {
      const auto& extent = arrangement.groups[g].rows[row];
      if (!extent) continue;
      const double right = draft.in.notched[row] ? area.notch_left : area.right;
      const double left = row == arrangement.rows.table ? area.left + table_heads : area.left;
      draft.out.line.least[g] = std::max(draft.out.line.least[g], left + extent->left);
      draft.out.line.most[g] = std::min(draft.out.line.most[g], right - extent->right);
    }
  }
  for (std::size_t f = 0; f < draft.in.plan.frames.size(); ++f) {
    const Frame& frame = draft.in.plan.frames[f];
    double right = area.right;
    for (std::size_t row = first_row(arrangement.rows, frame);
         row <= last_row(arrangement.rows, frame); ++row)
      if (draft.in.notched[row]) right = area.notch_left;
    draft.out.line.most[draft.out.variables.frame_right(f)] = right;
    draft.out.line.least[draft.out.variables.frame_left(f)] = area.left;
  }
}

bool present(const ColumnGroup& group, std::size_t from, std::size_t to) {
  for (std::size_t row = from; row <= to; ++row)
    if (group.rows[row]) return true;
  return false;
}

double most_left(const ColumnGroup& group, std::size_t from, std::size_t to) {
  double room = 0.0;
  for (std::size_t row = from; row <= to; ++row)
    if (group.rows[row]) room = std::max(room, group.rows[row]->left);
  return room;
}

double most_right(const ColumnGroup& group, std::size_t from, std::size_t to) {
  double room = -1e9;
  for (std::size_t row = from; row <= to; ++row)
    if (group.rows[row]) room = std::max(room, group.rows[row]->right);
  return room;
}

struct Interval {
  std::size_t low = std::numeric_limits<std::size_t>::max();
  std::size_t high = 0;
  bool empty() const { return low > high; }
  void cover(std::size_t at) {
    low = std::min(low, at);
    high = std::max(high, at);
  }
};

// Groups with a column that ends at a hub of the frame stand inside it, all others outside.
Interval frame_up(Draft& draft, std::size_t index) {
  const auto& plan = draft.in.plan;
  const auto& arrangement = draft.in.arrangement;
  const Frame& frame = plan.frames[index];
  const std::size_t top = first_row(arrangement.rows, frame);
  const std::size_t bottom = last_row(arrangement.rows, frame);
  std::vector<bool> inside(arrangement.groups.size(), false);
  Interval interval;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    if (!ends_in(plan, plan.chains[c], index)) continue;
    inside[arrangement.group_of[c]] = true;
    interval.cover(draft.out.position[arrangement.group_of[c]]);
  }
  const std::size_t left = draft.out.variables.frame_left(index);
  const std::size_t right = draft.out.variables.frame_right(index);
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    const ColumnGroup& group = arrangement.groups[g];
    if (!present(group, top, bottom)) continue;
    const double room_left = most_left(group, top, bottom);
    const double room_right = most_right(group, top, bottom);
    if (inside[g]) {
      draft.separate(left, g, room_left + draft.in.gap + 1.25);
      draft.separate(g, right, room_right + draft.in.gap);
    } else if (draft.out.position[g] < interval.low) {
      draft.separate(g, left, room_right + draft.in.gap, true);
    } else if (draft.out.position[g] > interval.high) {
      draft.separate(right, g, room_left + draft.in.gap, true);
    } else {
      ++draft.out.faults.frames;
    }
  }
  return interval;
}

// A frame with one line from above keeps its name left of that line; a reference right of it.
void keep_name_clear(Draft& draft, std::size_t index) {
  const auto& plan = draft.in.plan;
  const double name = draft.in.measures.frame_names[index];
  std::size_t entering = none;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    if (plan.hubs[plan.chains[c].lower].frame != index ||
        plan.hubs[plan.chains[c].upper].frame == index)
      continue;
    if (entering != none) return;
    entering = c;
  }
  if (entering == none || name <= 0.0) return;
  const std::size_t group = draft.in.arrangement.group_of[entering];
  const double offset = draft.in.arrangement.offset_of[entering];
  const std::size_t left = draft.out.variables.frame_left(index);
  const std::size_t right = draft.out.variables.frame_right(index);
  if (plan.hubs[plan.chains[entering].lower].kind == HubKind::reference_out) {
    constexpr double before_words = 2.5;
    draft.separate(group, right, offset + before_words + name + std::max(draft.in.gap, 1.25));
    return;
  }
  const double device = draft.in.measures.chains[entering].lower.extent.left;
  constexpr double both_above = 10.0;  // where the name of a bar has room below that of its frame
  const std::size_t entry = draft.in.arrangement.rows.below(plan.frames[index].tier, 0);
  const double bar = draft.in.measures.bar_names[index] + bar_end;
  const double words = draft.in.arrangement.row_heights[entry] >= both_above
                           ? std::max(name * draft.in.name_share, bar)
                           : name * draft.in.name_share + bar;
  draft.separate(left, group, 2.0 * draft.in.gap + words + device - offset);
}

void keep_frames_apart(Draft& draft) {
  const auto& frames = draft.in.plan.frames;
  std::vector<Interval> intervals;
  for (std::size_t f = 0; f < frames.size(); ++f) {
    intervals.push_back(frame_up(draft, f));
    keep_name_clear(draft, f);
  }
  for (std::size_t a = 0; a < frames.size(); ++a) {
    for (std::size_t b = 0; b < frames.size(); ++b) {
      if (a == b || frames[a].tier != frames[b].tier) continue;
      if (intervals[a].empty() || intervals[b].empty()) continue;
      if (intervals[a].high < intervals[b].low)
        draft.separate(draft.out.variables.frame_right(a), draft.out.variables.frame_left(b),
                       2.0 * draft.in.gap, true);
    }
  }
}

/// The columns that end at a hub, as an interval of keys.
struct Reach {
  bool any = false;
  Key low{};
  Key high{};
};

Reach reach_of(const Draft& draft, std::size_t hub) {
  Reach reach;
  for (std::size_t c = 0; c < draft.in.plan.chains.size(); ++c) {
    const Chain& chain = draft.in.plan.chains[c];
    if (chain.upper != hub && chain.lower != hub) continue;
    const Key key = draft.key(c);
    reach.low = reach.any ? std::min(reach.low, key) : key;
    reach.high = reach.any ? std::max(reach.high, key) : key;
    reach.any = true;
  }
  return reach;
}

// Whether another column of the same group ends at the bar: their distance is fixed already.
bool ends_at(const Draft& draft, std::size_t group, std::size_t hub) {
  const auto& members = draft.in.arrangement.groups[group].members;
  return std::any_of(members.begin(), members.end(), [&](const Member& member) {
    const Chain& chain = draft.in.plan.chains[member.chain];
    return chain.upper == hub || chain.lower == hub;
  });
}

// A bar reaches over its own columns; others pass beside it or cross it.
void lay_bar(Draft& draft, std::size_t index) {
  const auto& plan = draft.in.plan;
  const auto& arrangement = draft.in.arrangement;
  const Hub& hub = plan.hubs[index];
  const Reach reach = reach_of(draft, index);
  if (!reach.any) return;
  const double end = hub.kind == HubKind::bar ? bar_end : 0.0;
  const std::size_t left = draft.out.variables.bar_left(index);
  const std::size_t right = draft.out.variables.bar_right(index);
  const std::size_t layer = arrangement.rows.layer(hub.tier, hub.rank);
  const auto& ends = draft.in.measures.bar_ends;
  const Extent beside = hub.frame < ends.size() ? ends[hub.frame] : Extent{};
  draft.separate(draft.out.variables.frame_left(hub.frame), left, bar_end + beside.left);
  draft.separate(right, draft.out.variables.frame_right(hub.frame), bar_end + beside.right);
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    const Chain& chain = plan.chains[c];
    const std::size_t group = arrangement.group_of[c];
    const double offset = arrangement.offset_of[c];
    if (chain.upper == index || chain.lower == index) {
      draft.separate(left, group, end - offset);
      draft.separate(group, right, end + offset);
      continue;
    }
    const ChainRows& span = arrangement.chain_rows[c];
    if (span.first > layer || span.last < layer) continue;
    const Key key = draft.key(c);
    const bool also_attached = ends_at(draft, group, index);
    if (key < reach.low) {
      if (!also_attached) draft.separate(group, left, draft.in.gap + offset);
    } else if (key > reach.high) {
      if (!also_attached) draft.separate(right, group, draft.in.gap - offset);
    } else if (hub.kind == HubKind::bar) {
      ++draft.out.faults.bar_crossings;
    } else {
      ++draft.out.faults.crossings;
    }
  }
}

void lay_bars(Draft& draft) {
  const auto& hubs = draft.in.plan.hubs;
  const auto is_bar = [&](std::size_t h) {
    return hubs[h].frame != none &&
           (hubs[h].kind == HubKind::bar || hubs[h].kind == HubKind::joint);
  };
  for (std::size_t h = 0; h < hubs.size(); ++h)
    if (is_bar(h)) lay_bar(draft, h);
  for (std::size_t a = 0; a < hubs.size(); ++a) {
    for (std::size_t b = a + 1; b < hubs.size(); ++b) {
      if (!is_bar(a) || !is_bar(b) || hubs[a].frame != hubs[b].frame ||
          hubs[a].rank != hubs[b].rank)
        continue;
      const Reach first = reach_of(draft, a);
      const Reach second = reach_of(draft, b);
      if (!first.any || !second.any) continue;
      if (first.high < second.low) {
        draft.separate(draft.out.variables.bar_right(a), draft.out.variables.bar_left(b),
                       2.0 * draft.in.gap);
      } else if (second.high < first.low) {
        draft.separate(draft.out.variables.bar_right(b), draft.out.variables.bar_left(a),
                       2.0 * draft.in.gap);
      } else {
        ++draft.out.faults.bars;
      }
    }
  }
}

// The throw that comes from the left goes to the left port, the other to the right one; where a
// column passes between, its way to the port crosses it.
void reach_throws(Draft& draft, std::size_t hub) {
  constexpr double port = 5.0;
  const auto& arrangement = draft.in.arrangement;
  const std::vector<std::size_t> ways = throws_of(draft.in, hub, draft.out.position);
  std::size_t own = none;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g)
    if (arrangement.groups[g].hub == hub) own = g;
  if (own == none) return;
  const Key here{draft.out.position[own], 0.0};
  const Hub& changeover = draft.in.plan.hubs[hub];
  const std::size_t layer = arrangement.rows.layer(changeover.tier, changeover.rank);
  for (std::size_t i = 0; i < ways.size() && i < 2; ++i) {
    const std::size_t group = arrangement.group_of[ways[i]];
    const double offset = arrangement.offset_of[ways[i]];
    const Key key = draft.key(ways[i]);
    const bool left = i == 0;
    if (group == own || (left ? here < key : key < here)) {
      ++draft.out.faults.throws;
      continue;
    }
    const double reach = port + (left ? offset : -offset);
    draft.separate(left ? group : own, left ? own : group, reach);
    draft.out.line.pulls.push_back({left ? group : own, left ? own : group, reach, 2.0});
    for (std::size_t c = 0; c < draft.in.plan.chains.size(); ++c) {
      const ChainRows& span = arrangement.chain_rows[c];
      if (span.first > layer || span.last < layer) continue;
      const Key other = draft.key(c);
      if (left ? key < other && other < here : here < other && other < key)
        ++draft.out.faults.crossings;
    }
  }
}

// Sources, and what hangs from one bar, by their order in the file.
void count_order(Draft& draft) {
  const auto& plan = draft.in.plan;
  const auto& groups = draft.in.arrangement.groups;
  const auto upper_of = [&](std::size_t g) {
    if (groups[g].hub != none) return is_source(plan.hubs[groups[g].hub]) ? none : groups[g].hub;
    return groups[g].members.empty() ? groups[g].hub
                                     : plan.chains[groups[g].members[0].chain].upper;
  };
  for (std::size_t a = 0; a < groups.size(); ++a) {
    for (std::size_t b = a + 1; b < groups.size(); ++b) {
      if (upper_of(a) == upper_of(b) && draft.out.position[a] > draft.out.position[b])
        ++draft.out.faults.out_of_order;
    }
  }
}

// Chains pull what they join together: a feeder over the middle of what it feeds.
void pull_together(Draft& draft) {
  const auto& plan = draft.in.plan;
  const auto& arrangement = draft.in.arrangement;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    const ColumnGroup& group = arrangement.groups[g];
    if (!group.circuits) continue;
    const std::size_t bar = plan.chains[group.members.front().chain].upper;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      if (plan.chains[c].lower != bar) continue;
      const double middle =
          (group.members.front().offset + group.members.back().offset) / 2.0 + module_width;
      draft.out.line.pulls.push_back(
          {g, arrangement.group_of[c], middle - arrangement.offset_of[c], 1.0});
    }
  }
}

double cost_of(const Ordered& ordered, const OrderInput& input, double limit) {
  const Faults& faults = ordered.faults;
  double cost = 4000.0 * (faults.frames + faults.bars + faults.throws) +
                60.0 * faults.bar_crossings + 25.0 * faults.crossings + 6.0 * faults.out_of_order;
  if (cost >= limit) return cost;
  const std::vector<double> places = leftmost(ordered.line, 0.0, input.grid);
  cost += 30.0 * excess(ordered.line, places);
  double width = 0.0;
  for (const double place : places)
    width = std::max(width, place);
  cost += 0.2 * width;
  for (std::size_t h = 0; h < input.plan.hubs.size(); ++h) {
    if (input.plan.hubs[h].kind != HubKind::bar && input.plan.hubs[h].kind != HubKind::joint)
      continue;
    cost += 0.05 * std::max(0.0, places[ordered.variables.bar_right(h)] -
                                     places[ordered.variables.bar_left(h)]);
  }
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

Ordered line_up(const OrderInput& input, const std::vector<std::size_t>& position, double limit) {
  Ordered ordered;
  ordered.position = position;
  ordered.variables = {input.arrangement.groups.size(), input.plan.hubs.size(),
                       input.plan.frames.size()};
  ordered.line.snapped = ordered.variables.groups;
  ordered.line.least.assign(ordered.variables.count(), input.area.left);
  ordered.line.most.assign(ordered.variables.count(), input.area.right);
  ordered.line.separations.reserve(64 + 24 * position.size());
  Draft draft{.in = input, .out = ordered, .sequence = {}};
  draft.sequence.resize(position.size());
  for (std::size_t g = 0; g < position.size(); ++g)
    draft.sequence[position[g]] = g;
  keep_groups_apart(draft);
  keep_inside_area(draft);
  keep_frames_apart(draft);
  lay_bars(draft);
  for (std::size_t h = 0; h < input.plan.hubs.size(); ++h)
    if (input.plan.hubs[h].kind == HubKind::changeover) reach_throws(draft, h);
  count_order(draft);
  pull_together(draft);
  ordered.cost = cost_of(ordered, input, limit);
  return ordered;
}

}  // namespace linewright::diagram
