#include "diagram/standing.hpp"

#include <algorithm>

namespace linewright::diagram {
namespace {

using site::none;

std::size_t first_row(const Rows& rows, const Frame& frame) {
  return rows.below(frame.tier, 0);
}

std::size_t last_row(const Rows& rows, const Frame& frame) {
  return rows.below(frame.tier, frame.ranks);
}

void keep_inside_area(Standing& standing) {
  const OrderInput& input = standing.input;
  const Arrangement& arrangement = input.arrangement;
  Line& line = standing.line;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    for (std::size_t row = 0; row < arrangement.rows.count(); ++row) {
      const auto& extent = arrangement.groups[g].rows[row];
      if (!extent) continue;
      const double right = input.notched[row] ? input.area.notch_left : input.area.right;
      const double left =
          row == arrangement.rows.table ? input.area.left + table_heads : input.area.left;
      line.least[g] = std::max(line.least[g], left + extent->left);
      line.most[g] = std::min(line.most[g], right - extent->right);
    }
  }
  for (std::size_t f = 0; f < input.plan.frames.size(); ++f) {
    const Frame& frame = input.plan.frames[f];
    double right = input.area.right;
    for (std::size_t row = first_row(arrangement.rows, frame);
         row <= last_row(arrangement.rows, frame); ++row)
      if (input.notched[row]) right = input.area.notch_left;
    line.most[standing.variables.frame_right(f)] = right;
    line.least[standing.variables.frame_left(f)] = input.area.left;
  }
}

// The widest room between two rows; nothing where there is none in any of them.
std::optional<Extent> room_in(const std::vector<std::optional<Extent>>& rows, std::size_t from,
                              std::size_t to) {
  std::optional<Extent> room;
  for (std::size_t row = from; row <= to; ++row) {
    if (!rows[row]) continue;
    if (!room) room = Extent{-1e9, -1e9};
    room->left = std::max(room->left, rows[row]->left);
    room->right = std::max(room->right, rows[row]->right);
  }
  if (room) room->left = std::max(room->left, -room->right);
  return room;
}

// Of a source with lines to several frames only those that end in a frame widen it, as long as its
// edge keeps clear of the others.
Extent room_of_own(const Plan& plan, const ColumnGroup& group, std::size_t frame, std::size_t top,
                   std::size_t bottom, const Extent& whole) {
  constexpr double clear = 2.0 * module_width;
  if (group.hub == none || plan.hubs[group.hub].frame != none) return whole;
  const auto ends_here = [&](const Member& member) {
    return plan.hubs[plan.chains[member.chain].lower].frame == frame;
  };
  std::optional<Extent> own;
  for (const Member& member : group.members)
    if (const auto room = room_in(member.rows, top, bottom); room && ends_here(member)) {
      if (own)
        own->cover(*room);
      else
        own = room;
    }
  if (!own) return whole;
  for (const Member& member : group.members) {
    if (ends_here(member) || !room_in(member.rows, top, bottom)) continue;
    const bool beside = member.offset > own->right + clear || -member.offset > own->left + clear;
    if (!beside) return whole;
  }
  return *own;
}

// Groups with a column that ends at a hub of the frame stand inside it, all others outside.
void fill_frames(Standing& standing) {
  const Plan& plan = standing.input.plan;
  const Arrangement& arrangement = standing.input.arrangement;
  std::vector<std::vector<bool>> inside(plan.frames.size());
  for (auto& groups : inside)
    groups.assign(arrangement.groups.size(), false);
  for (std::size_t c = 0; c < plan.chains.size(); ++c)
    for (const std::size_t hub : {plan.chains[c].upper, plan.chains[c].lower})
      if (plan.hubs[hub].frame != none)
        inside[plan.hubs[hub].frame][arrangement.group_of[c]] = true;
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    std::vector<InFrame> present;
    const std::size_t top = first_row(arrangement.rows, plan.frames[f]);
    const std::size_t bottom = last_row(arrangement.rows, plan.frames[f]);
    for (std::size_t g = 0; g < arrangement.groups.size(); ++g)
      if (const auto room = room_in(arrangement.groups[g].rows, top, bottom))
        present.push_back(
            {g,
             inside[f][g] ? room_of_own(plan, arrangement.groups[g], f, top, bottom, *room) : *room,
             inside[f][g]});
    standing.frames.push_back(std::move(present));
  }
  for (std::size_t a = 0; a < plan.frames.size(); ++a)
    for (std::size_t b = a + 1; b < plan.frames.size(); ++b)
      if (plan.frames[a].tier == plan.frames[b].tier) standing.frame_pairs.emplace_back(a, b);
}

AtBar column_of(const Arrangement& arrangement, std::size_t chain) {
  return {
      .chain = chain, .group = arrangement.group_of[chain], .offset = arrangement.offset_of[chain]};
}

bool crosses(const Arrangement& arrangement, std::size_t chain, std::size_t layer) {
  const ChainRows& span = arrangement.chain_rows[chain];
  return span.first <= layer && span.last >= layer;
}

void fill_bars(Standing& standing) {
  const Plan& plan = standing.input.plan;
  const Arrangement& arrangement = standing.input.arrangement;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const Hub& hub = plan.hubs[h];
    if (hub.frame == none || (hub.kind != HubKind::bar && hub.kind != HubKind::joint)) continue;
    BarColumns bar{.hub = h, .columns = {}};
    const std::size_t layer = arrangement.rows.layer(hub.tier, hub.rank);
    std::vector<bool> own_groups(arrangement.groups.size(), false);
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      AtBar column = column_of(arrangement, c);
      column.own = plan.chains[c].upper == h || plan.chains[c].lower == h;
      if (column.own) own_groups[column.group] = true;
      if (column.own || crosses(arrangement, c, layer)) bar.columns.push_back(column);
    }
    for (AtBar& column : bar.columns)
      column.with_own = own_groups[column.group];
    standing.bars.push_back(std::move(bar));
  }
  for (std::size_t a = 0; a < standing.bars.size(); ++a)
    for (std::size_t b = a + 1; b < standing.bars.size(); ++b) {
      const Hub& one = plan.hubs[standing.bars[a].hub];
      const Hub& other = plan.hubs[standing.bars[b].hub];
      if (one.frame == other.frame && one.rank == other.rank) standing.bar_pairs.emplace_back(a, b);
    }
}

void fill_throws(Standing& standing) {
  const Plan& plan = standing.input.plan;
  const Arrangement& arrangement = standing.input.arrangement;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    const std::size_t h = arrangement.groups[g].hub;
    if (h == none || plan.hubs[h].kind != HubKind::changeover) continue;
    ThrowColumns changeover{.hub = h, .group = g, .ways = {}, .crossing = {}};
    const std::size_t layer = arrangement.rows.layer(plan.hubs[h].tier, plan.hubs[h].rank);
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      if (plan.chains[c].lower == h) changeover.ways.push_back(column_of(arrangement, c));
      if (crosses(arrangement, c, layer)) changeover.crossing.push_back(column_of(arrangement, c));
    }
    standing.throws.push_back(std::move(changeover));
  }
  std::ranges::stable_sort(standing.throws, {}, &ThrowColumns::hub);
}

// Sources, and what hangs from one bar, by their order in the file.
void fill_siblings(Standing& standing) {
  const Plan& plan = standing.input.plan;
  const auto& groups = standing.input.arrangement.groups;
  const auto upper_of = [&](const ColumnGroup& group) {
    if (group.hub != none) return is_source(plan.hubs[group.hub]) ? none : group.hub;
    return group.members.empty() ? group.hub : plan.chains[group.members[0].chain].upper;
  };
  for (std::size_t a = 0; a < groups.size(); ++a)
    for (std::size_t b = a + 1; b < groups.size(); ++b)
      if (upper_of(groups[a]) == upper_of(groups[b])) standing.siblings.emplace_back(a, b);
}

// Chains pull what they join together: a feeder over the middle of what it feeds.
void pull_together(Standing& standing) {
  const Plan& plan = standing.input.plan;
  const Arrangement& arrangement = standing.input.arrangement;
  for (std::size_t g = 0; g < arrangement.groups.size(); ++g) {
    const ColumnGroup& group = arrangement.groups[g];
    if (!group.circuits) continue;
    const std::size_t bar = plan.chains[group.members.front().chain].upper;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      if (plan.chains[c].lower != bar) continue;
      const double middle =
          (group.members.front().offset + group.members.back().offset) / 2.0 + module_width;
      standing.line.pulls.push_back(
          {g, arrangement.group_of[c], middle - arrangement.offset_of[c], 1.0});
    }
  }
}

void count_in_frames(const Standing& standing, const std::vector<std::size_t>& position,
                     Faults& faults) {
  std::vector<Interval<std::size_t>> reaches;
  for (const auto& frame : standing.frames) {
    const Interval<std::size_t> reach = reach_of(frame, position);
    reaches.push_back(reach);
    if (!reach.any) continue;
    for (const InFrame& present : frame) {
      const std::size_t at = position[present.group];
      if (!present.inside && at >= reach.low && at <= reach.high) ++faults.frames;
    }
  }
  for (const auto& [a, b] : standing.frame_pairs) {
    if (!reaches[a].any || !reaches[b].any) continue;
    if (!(reaches[a].high < reaches[b].low) && !(reaches[b].high < reaches[a].low)) ++faults.frames;
  }
}

void count_at_bars(const Standing& standing, const std::vector<std::size_t>& position,
                   Faults& faults) {
  std::vector<Interval<Key>> reaches;
  for (const BarColumns& bar : standing.bars) {
    const Interval<Key> reach = reach_of(bar, position);
    reaches.push_back(reach);
    if (!reach.any) continue;
    const bool is_bar = standing.input.plan.hubs[bar.hub].kind == HubKind::bar;
    for (const AtBar& column : bar.columns) {
      if (column.own) continue;
      const Key key = key_of(column, position);
      if (key < reach.low || key > reach.high) continue;
      ++(is_bar ? faults.bar_crossings : faults.crossings);
    }
  }
  for (const auto& [a, b] : standing.bar_pairs) {
    if (!reaches[a].any || !reaches[b].any) continue;
    if (!(reaches[a].high < reaches[b].low) && !(reaches[b].high < reaches[a].low)) ++faults.bars;
  }
}

void count_at_throws(const Standing& standing, const std::vector<std::size_t>& position,
                     Faults& faults) {
  for (const ThrowColumns& changeover : standing.throws) {
    const Key here{position[changeover.group], 0.0};
    const std::vector<AtBar> ways = throws_in(changeover, position);
    for (std::size_t i = 0; i < ways.size(); ++i) {
      const Key key = key_of(ways[i], position);
      const bool left = i == 0;
      if (ways[i].group == changeover.group || (left ? here < key : key < here)) {
        ++faults.throws;
        continue;
      }
      for (const AtBar& column : changeover.crossing) {
        const Key other = key_of(column, position);
        if (left ? key < other && other < here : here < other && other < key) ++faults.crossings;
      }
    }
  }
}

}  // namespace

Standing standing_of(const OrderInput& input) {
  Standing standing{.input = input,
                    .variables = {input.arrangement.groups.size(), input.plan.hubs.size(),
                                  input.plan.frames.size()},
                    .line = {},
                    .frames = {},
                    .frame_pairs = {},
                    .bars = {},
                    .bar_pairs = {},
                    .throws = {},
                    .siblings = {}};
  standing.line.snapped = standing.variables.groups;
  standing.line.least.assign(standing.variables.count(), input.area.left);
  standing.line.most.assign(standing.variables.count(), input.area.right);
  keep_inside_area(standing);
  fill_frames(standing);
  fill_bars(standing);
  fill_throws(standing);
  fill_siblings(standing);
  pull_together(standing);
  return standing;
}

Key key_of(const AtBar& column, const std::vector<std::size_t>& position) {
  return {position[column.group], column.offset};
}

Interval<Key> reach_of(const BarColumns& bar, const std::vector<std::size_t>& position) {
  Interval<Key> reach;
  for (const AtBar& column : bar.columns)
    if (column.own) reach.cover(key_of(column, position));
  return reach;
}

Interval<std::size_t> reach_of(const std::vector<InFrame>& frame,
                               const std::vector<std::size_t>& position) {
  Interval<std::size_t> reach;
  for (const InFrame& present : frame)
    if (present.inside) reach.cover(position[present.group]);
  return reach;
}

std::vector<AtBar> throws_in(const ThrowColumns& changeover,
                             const std::vector<std::size_t>& position) {
  std::vector<AtBar> ways = changeover.ways;
  std::ranges::stable_sort(ways, {}, [&](const AtBar& way) { return key_of(way, position); });
  if (ways.size() > 2) ways.resize(2);
  return ways;
}

Faults count_faults(const Standing& standing, const std::vector<std::size_t>& position) {
  Faults faults;
  count_in_frames(standing, position, faults);
  count_at_bars(standing, position, faults);
  count_at_throws(standing, position, faults);
  for (const auto& [a, b] : standing.siblings)
    if (position[a] > position[b]) ++faults.out_of_order;
  return faults;
}

}  // namespace linewright::diagram
