#include "diagram/arrange.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace linewright::diagram {

std::size_t Rows::channel(int tier) const {
  if (tier <= 0) return 1;
  const auto index = static_cast<std::size_t>(tier);
  return entries[index] + 2 * static_cast<std::size_t>(ranks[index]) + 1;
}

std::size_t Rows::layer(int tier, int rank) const {
  return entries[static_cast<std::size_t>(tier)] + 2 * static_cast<std::size_t>(rank) - 1;
}

std::size_t Rows::below(int tier, int rank) const {
  return entries[static_cast<std::size_t>(tier)] + 2 * static_cast<std::size_t>(rank);
}

namespace {

using site::none;
using site::Site;

Rows make_rows(const Plan& plan) {
  Rows rows;
  int tiers = 0;
  for (const Frame& frame : plan.frames)
    tiers = std::max(tiers, frame.tier);
  rows.entries.assign(static_cast<std::size_t>(tiers) + 1, 0);
  rows.ranks.assign(static_cast<std::size_t>(tiers) + 1, 0);
  for (const Frame& frame : plan.frames) {
    int& ranks = rows.ranks[static_cast<std::size_t>(frame.tier)];
    ranks = std::max(ranks, frame.ranks);
  }
  std::size_t next = 2;
  for (int tier = 1; tier <= tiers; ++tier) {
    rows.entries[static_cast<std::size_t>(tier)] = next;
    next = rows.channel(tier) + 1;
  }
  rows.table = next;
  for (const Chain& chain : plan.chains)
    if (plan.hubs[chain.lower].kind == HubKind::load)
      rows.circuit_tiers = std::max(rows.circuit_tiers, plan.hubs[chain.upper].tier);
  return rows;
}

/// The rows that may take a stack, the nearest to its hub first.
struct Choice {
  std::size_t chain;
  bool upper;
  std::vector<std::size_t> rows;
};

ChainRows span_of(const Plan& plan, const Rows& rows, const Chain& chain) {
  const Hub& upper = plan.hubs[chain.upper];
  const Hub& lower = plan.hubs[chain.lower];
  ChainRows span;
  span.first = upper.frame == none ? rows.source() : rows.below(upper.tier, upper.rank);
  switch (lower.kind) {
    case HubKind::load:
      span.last = rows.table;
      break;
    case HubKind::pendant:
      span.last = rows.channel(upper.tier);
      break;
    case HubKind::reference_out:
      span.last =
          lower.frame == none ? rows.channel(upper.tier) : rows.layer(lower.tier, lower.rank) - 1;
      break;
    default:
      span.last = rows.layer(lower.tier, lower.rank) - 1;
      break;
  }
  const int below = lower.frame == none ? upper.tier : lower.tier - 1;
  span.middle = rows.channel(below);
  span.upper = span.first;
  span.lower = span.last;
  return span;
}

std::vector<Choice> choices_of(const Plan& plan, const Rows& rows, const Measures& measures) {
  std::vector<Choice> choices;
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    const Hub& upper = plan.hubs[plan.chains[i].upper];
    const Hub& lower = plan.hubs[plan.chains[i].lower];
    const bool within = upper.frame != none && upper.frame == lower.frame;
    if (!measures.chains[i].upper.empty() && upper.frame != none) {
      Choice choice{i, true, {}};
      const int last = within ? lower.rank - 1 : plan.frames[upper.frame].ranks;
      for (int rank = upper.rank; rank <= last; ++rank) {
        choice.rows.push_back(rows.below(upper.tier, rank));
        if (upper.kind == HubKind::changeover) break;
      }
      choices.push_back(std::move(choice));
    }
    if (!measures.chains[i].lower.empty() && lower.frame != none) {
      Choice choice{i, false, {}};
      for (int rank = lower.rank - 1; rank >= (within ? upper.rank : 0); --rank)
        choice.rows.push_back(rows.below(lower.tier, rank));
      choices.push_back(std::move(choice));
    }
  }
  return choices;
}

double changeover_height(const Plan& plan, const Measures& measures, const Chain& chain) {
  constexpr double symbol = 15.0;
  if (plan.hubs[chain.upper].kind != HubKind::changeover) return 0.0;
  const Stack& stack = measures.chains[static_cast<std::size_t>(&chain - plan.chains.data())].upper;
  return stack.height <= 0.0 ? symbol : symbol + stack.height - module_width;
}

// Stacks that have one row set its height; those with a choice take the nearest row that is high
// enough already, else the nearest.
void place_stacks(const Plan& plan, const Measures& measures, Arrangement& arrangement) {
  auto& heights = arrangement.row_heights;
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    const Hub& upper = plan.hubs[plan.chains[i].upper];
    if (upper.kind != HubKind::changeover) continue;
    double& height = heights[arrangement.rows.below(upper.tier, upper.rank)];
    height = std::max(height, changeover_height(plan, measures, plan.chains[i]));
  }
  std::vector<Choice> choices = choices_of(plan, arrangement.rows, measures);
  std::stable_sort(choices.begin(), choices.end(),
                   [](const Choice& a, const Choice& b) { return a.rows.size() < b.rows.size(); });
  for (const Choice& choice : choices) {
    const ChainShape& shape = measures.chains[choice.chain];
    const bool is_load = plan.hubs[plan.chains[choice.chain].lower].kind == HubKind::load;
    const double need = choice.upper ? shape.upper.height : shape.lower.height;
    std::size_t row = choice.rows.front();
    for (const std::size_t candidate : choice.rows) {
      if (heights[candidate] < need || is_load) continue;
      row = candidate;
      break;
    }
    if (plan.hubs[plan.chains[choice.chain].upper].kind != HubKind::changeover)
      heights[row] = std::max(heights[row], need);
    (choice.upper ? arrangement.chain_rows[choice.chain].upper
                  : arrangement.chain_rows[choice.chain].lower) = row;
  }
}

double channel_need(const Plan& plan, const ChainShape& shape, const Chain& chain) {
  if (plan.hubs[chain.lower].kind == HubKind::load) return shape.middle.height;
  if (plan.hubs[chain.lower].kind == HubKind::reference_out && plan.hubs[chain.lower].frame == none)
    return cable_room(shape) + 12.5;
  if (plan.hubs[chain.lower].kind == HubKind::pendant) return std::max(12.5, shape.middle.height);
  if (!shape.middle.empty()) return shape.middle.height;
  return std::max(3.0, cable_room(shape));
}

void set_heights(const Plan& plan, const Measures& measures, const Spacing& spacing,
                 Arrangement& arrangement) {
  const Rows& rows = arrangement.rows;
  auto& heights = arrangement.row_heights;
  for (int tier = 1; tier <= rows.tiers(); ++tier) {
    double& entry = heights[rows.below(tier, 0)];
    bool bar_first = false;
    for (const Hub& hub : plan.hubs)
      bar_first = bar_first || (hub.kind == HubKind::bar && hub.tier == tier && hub.rank == 1);
    if (entry <= 0.0) entry = bar_first ? spacing.entry : spacing.entry - module_width;
    const int ranks = rows.ranks[static_cast<std::size_t>(tier)];
    for (int rank = 1; rank <= ranks; ++rank) {
      double& height = heights[rows.below(tier, rank)];
      if (rank == ranks) height += spacing.bottom;
      bool throws_follow = false;
      for (const Hub& hub : plan.hubs)
        throws_follow = throws_follow || (hub.kind == HubKind::changeover && hub.tier == tier &&
                                          hub.rank == rank + 1);
      if (throws_follow && height > 0.0) height += module_width;
      const double layers = std::max(spacing.layers, measures.layers);
      const double least = rank == ranks ? 5.0 : throws_follow ? spacing.throws : layers;
      height = std::max(height, least);
    }
  }
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const Frame& frame = plan.frames[f];
    double& last = heights[rows.below(frame.tier, frame.ranks)];
    last = std::max(last, measures.tag_heights[f] - heights[rows.below(frame.tier, 0)]);
  }
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    double& height = heights[arrangement.chain_rows[i].middle];
    height = std::max(height, channel_need(plan, measures.chains[i], plan.chains[i]));
  }
  for (int tier = 0; tier <= rows.tiers(); ++tier) {
    double& height = heights[rows.channel(tier)];
    const bool last = tier == rows.tiers();
    height = std::max(height, last ? 2.5 : spacing.channel);
  }
  heights[rows.table] = measures.table.height();
}

using RowRooms = std::vector<std::optional<Extent>>;

void cover(RowRooms& rooms, std::size_t row, Extent extent, double offset) {
  const Extent moved{extent.left - offset, extent.right + offset};
  if (rooms[row]) {
    rooms[row]->cover(moved);
  } else {
    rooms[row] = moved;
  }
}

void cover_chain(const Plan& plan, const Measures& measures, const Arrangement& arrangement,
                 const Member& member, RowRooms& rooms) {
  const ChainShape& shape = measures.chains[member.chain];
  const ChainRows& span = arrangement.chain_rows[member.chain];
  for (std::size_t row = span.first; row <= span.last; ++row)
    cover(rooms, row, shape.along, member.offset);
  cover(rooms, span.upper, shape.upper.extent, member.offset);
  cover(rooms, span.lower, shape.lower.extent, member.offset);
  cover(rooms, span.middle, shape.middle.extent, member.offset);
  const bool left = plan.hubs[plan.chains[member.chain].lower].kind == HubKind::pendant;
  if (!shape.cable.empty())
    cover(rooms, span.middle,
          left ? Extent{shape.cable_width, 1.25} : Extent{1.25, shape.cable_width}, member.offset);
  const double half = measures.table.pitch / 2.0;
  if (plan.hubs[plan.chains[member.chain].lower].kind != HubKind::load) return;
  const bool beside = arrangement.rows.circuit_tiers < arrangement.rows.tiers();
  const double heads = beside && member.offset <= 0.0 ? table_heads : 0.0;
  for (std::size_t row =
           arrangement.rows.channel(arrangement.rows.circuit_tiers) + (beside ? 0 : 1);
       row <= arrangement.rows.table; ++row)
    cover(rooms, row, {half + heads, half}, member.offset);
}

// Main earthing terminals reach down beside the next tier; other ends of earth stay in the channel.
void cover_end(const Site& site, const Metrics& metrics, const Plan& plan,
               const Arrangement& arrangement, const Member& member, RowRooms& rooms) {
  const Hub& end = plan.hubs[plan.chains[member.chain].lower];
  const std::size_t first = arrangement.chain_rows[member.chain].middle;
  if (end.kind == HubKind::reference_out) {
    const double width = widest(metrics, end.reference);
    if (end.frame == none) {
      cover(rooms, first, {2.5, 2.5 + width}, member.offset);
    } else {
      cover(rooms, arrangement.rows.below(end.tier, end.rank), {1.25, 2.5 + width}, member.offset);
    }
  }
  if (end.kind != HubKind::pendant) return;
  cover(rooms, first, {3.75, 3.75}, member.offset);
  if (end.element == none || !is_met(site.elements[end.element])) return;
  constexpr double half_bar = 13.0;
  const double words = 1.75 + label_width(metrics, label_of(site, end.element));
  const int tier = plan.hubs[plan.chains[member.chain].upper].tier;
  const std::size_t last =
      tier < arrangement.rows.tiers() ? arrangement.rows.channel(tier + 1) : arrangement.rows.table;
  for (std::size_t row = first; row <= last; ++row)
    cover(rooms, row, {half_bar, std::max(half_bar, words)}, member.offset);
}

void cover_hub(const Site& site, const Metrics& metrics, const Plan& plan, const Measures& measures,
               const Arrangement& arrangement, ColumnGroup& group) {
  const Hub& hub = plan.hubs[group.hub];
  const Rows& rows = arrangement.rows;
  if (hub.kind == HubKind::changeover) {
    const double words = label_width(metrics, label_of(site, hub.element));
    const Extent room{8.0, 8.0 + label_gap + words};
    cover(group.rows, rows.layer(hub.tier, hub.rank), {8.0, 8.0}, 0.0);
    cover(group.rows, rows.below(hub.tier, hub.rank), room, 0.0);
    return;
  }
  // A source that feeds nothing in the first tier may reach down into it.
  bool stays_above = false;
  bool reaches_far = false;
  for (const Member& member : group.members) {
    const Hub& lower = plan.hubs[plan.chains[member.chain].lower];
    reaches_far = reaches_far || lower.tier >= 2;
    stays_above = stays_above || (lower.frame != none && lower.tier == 1);
  }
  const bool into_first = reaches_far && !stays_above && rows.tiers() > 0;
  const std::size_t last = into_first ? rows.channel(1) - 1 : rows.channel(0);
  for (std::size_t row = 0; row <= last; ++row)
    cover(group.rows, row, measures.sources[group.hub].extent, 0.0);
}

std::vector<std::size_t> hubs_downwards(const Plan& plan) {
  std::vector<std::size_t> order(plan.hubs.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (plan.hubs[a].tier != plan.hubs[b].tier) return plan.hubs[a].tier < plan.hubs[b].tier;
    return plan.hubs[a].rank < plan.hubs[b].rank;
  });
  return order;
}

std::vector<std::size_t> chains_below(const Plan& plan, std::size_t hub) {
  std::vector<std::size_t> chains;
  for (std::size_t i = 0; i < plan.chains.size(); ++i)
    if (plan.chains[i].upper == hub) chains.push_back(i);
  return chains;
}

// The only chain that comes down to a joint, which goes on straight below it; else none.
std::size_t only_chain_above(const Plan& plan, std::size_t hub) {
  std::size_t only = none;
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    if (plan.chains[i].lower != hub) continue;
    if (only != none) return none;
    only = i;
  }
  return only;
}

std::size_t straight_on(const Plan& plan, const std::vector<std::size_t>& below) {
  for (const std::size_t chain : below)
    if (plan.hubs[plan.chains[chain].lower].kind == HubKind::changeover) return chain;
  for (const std::size_t chain : below)
    if (plan.hubs[plan.chains[chain].lower].frame != none) return chain;
  return none;
}

void join_group(Arrangement& arrangement, std::size_t group, Member member) {
  arrangement.group_of[member.chain] = group;
  arrangement.offset_of[member.chain] = member.offset;
  arrangement.groups[group].members.push_back(std::move(member));
}

void group_below_bar(const Plan& plan, const Measures& measures, std::size_t hub,
                     Arrangement& arrangement) {
  const std::vector<std::size_t> below = chains_below(plan, hub);
  std::size_t straight = none;
  if (plan.hubs[hub].kind == HubKind::joint) {
    const std::size_t above = only_chain_above(plan, hub);
    straight = above == none ? none : straight_on(plan, below);
    if (straight != none)
      join_group(arrangement, arrangement.group_of[above],
                 {straight, arrangement.offset_of[above]});
  }
  std::size_t circuits = none;
  for (const std::size_t chain : below) {
    if (chain == straight) continue;
    const bool load = plan.hubs[plan.chains[chain].lower].kind == HubKind::load;
    if (load && circuits != none) {
      const auto count = static_cast<double>(arrangement.groups[circuits].members.size());
      join_group(arrangement, circuits, {chain, count * measures.table.pitch});
      continue;
    }
    arrangement.groups.push_back({.circuits = load});
    join_group(arrangement, arrangement.groups.size() - 1, {chain, 0.0});
    if (load) circuits = arrangement.groups.size() - 1;
  }
}

void make_groups(const Site& site, const Metrics& metrics, const Plan& plan,
                 const Measures& measures, Arrangement& arrangement) {
  for (const std::size_t hub : hubs_downwards(plan)) {
    const HubKind kind = plan.hubs[hub].kind;
    if (kind == HubKind::bar || kind == HubKind::joint) {
      group_below_bar(plan, measures, hub, arrangement);
    } else if (is_source(plan.hubs[hub]) || kind == HubKind::changeover) {
      arrangement.groups.push_back({.hub = hub});
      for (const std::size_t chain : chains_below(plan, hub))
        join_group(
            arrangement, arrangement.groups.size() - 1,
            {chain, port_offset(site, metrics, plan.hubs[hub], plan.chains[chain].upper_port)});
    }
  }
}

}  // namespace

double port_offset(const Site& site, const Metrics& metrics, const Hub& hub,
                   const std::string& port) {
  if (hub.element == none) return 0.0;
  const SymbolShape& shape = shape_of(metrics, symbol_name(site, hub.element));
  return port_of(shape, port).x;
}

Arrangement arrange(const Site& site, const Metrics& metrics, const Plan& plan,
                    const Measures& measures, const Spacing& spacing) {
  Arrangement arrangement;
  arrangement.rows = make_rows(plan);
  arrangement.row_heights.assign(arrangement.rows.count(), 0.0);
  arrangement.group_of.assign(plan.chains.size(), none);
  arrangement.offset_of.assign(plan.chains.size(), 0.0);
  for (const Chain& chain : plan.chains)
    arrangement.chain_rows.push_back(span_of(plan, arrangement.rows, chain));
  place_stacks(plan, measures, arrangement);
  set_heights(plan, measures, spacing, arrangement);
  make_groups(site, metrics, plan, measures, arrangement);
  for (ColumnGroup& group : arrangement.groups) {
    group.rows.assign(arrangement.rows.count(), std::nullopt);
    for (Member& member : group.members) {
      RowRooms own(arrangement.rows.count());
      RowRooms& rooms = group.hub == none ? group.rows : own;
      cover_chain(plan, measures, arrangement, member, rooms);
      cover_end(site, metrics, plan, arrangement, member, rooms);
      if (group.hub == none) continue;
      for (std::size_t row = 0; row < own.size(); ++row)
        if (own[row]) cover(group.rows, row, *own[row], 0.0);
      member.rows = std::move(own);
    }
    if (group.hub != none) cover_hub(site, metrics, plan, measures, arrangement, group);
  }
  return arrangement;
}

}  // namespace linewright::diagram
