#include "diagram/place.hpp"

#include <algorithm>
#include <cmath>

namespace linewright::diagram {
namespace {

using site::none;

/// Heights of all rows and the tops that follow from them.
struct Heights {
  std::vector<double> tops;
  double end = 0.0;  ///< bottom of the tables
};

// How far down the sources of a tier reach from the top of the sheet.
double source_need(const Plan& plan, const Measures& measures, int tier) {
  double need = 0.0;
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    const Chain& chain = plan.chains[c];
    if (!is_source(plan.hubs[chain.upper])) continue;
    const Hub& lower = plan.hubs[chain.lower];
    if ((lower.frame == none ? 1 : lower.tier) != tier) continue;
    const SourceShape& source = measures.sources[chain.upper];
    need = std::max({need, source.height + measures.chains[c].upper.height,
                     tier == 1 ? source.reach - module_width : 0.0});
  }
  return need;
}

Heights stack_rows(const Plan& plan, const Measures& measures, const Arrangement& arrangement,
                   double top) {
  const Rows& rows = arrangement.rows;
  Heights heights;
  heights.tops.assign(rows.count(), top);
  double at = top;
  for (int tier = 1; tier <= std::max(rows.tiers(), 1); ++tier) {
    const std::size_t channel = rows.channel(tier - 1);
    const double start = std::max(at, top + source_need(plan, measures, tier));
    heights.tops[channel] = start;
    at = start + arrangement.row_heights[channel];
    if (tier > rows.tiers()) break;
    for (std::size_t row = rows.below(tier, 0); row < rows.channel(tier); ++row) {
      heights.tops[row] = at;
      at += arrangement.row_heights[row];
    }
  }
  if (rows.tiers() > 0) {
    heights.tops[rows.channel(rows.tiers())] = at;
    at += arrangement.row_heights[rows.channel(rows.tiers())];
  }
  constexpr double strokes = 10.0;  // room above a table for the strokes on its columns
  const double table = arrangement.row_heights[rows.table];
  const double above = rows.tiers() > 0 ? heights.tops[rows.channel(rows.circuit_tiers)] : at;
  heights.end = std::max(at, table > 0.0 ? above + strokes + table : at);
  heights.tops[rows.table] = heights.end - table;
  return heights;
}

// Spreads the height that is left: most of it goes to the channels between the tiers.
void stretch(const Plan& plan, const Measures& measures, Arrangement& arrangement, const Area& area,
             double bottom) {
  const double top = area.top;
  const Rows& rows = arrangement.rows;
  std::vector<double> weight(rows.count(), 0.0);
  std::vector<double> most(rows.count(), 0.0);
  for (int tier = 0; tier <= rows.tiers(); ++tier) {
    weight[rows.channel(tier)] = tier == rows.tiers() ? 1.0 : 2.0;
    most[rows.channel(tier)] = tier == rows.tiers() ? 7.5 : 15.0;
    for (int rank = 0; tier > 0 && rank <= rows.ranks[static_cast<std::size_t>(tier)]; ++rank) {
      weight[rows.below(tier, rank)] = 0.75;
      most[rows.below(tier, rank)] = 5.0;
    }
  }
  std::vector<double> grown(rows.count(), 0.0);
  for (int round = 0; round < 60; ++round) {
    const double left = bottom - stack_rows(plan, measures, arrangement, top).end;
    if (left < 0.25) return;
    double sum = 0.0;
    for (std::size_t row = 0; row < weight.size(); ++row)
      if (grown[row] < most[row]) sum += weight[row];
    const bool all_full = sum <= 0.0;
    if (all_full && area.growth == Growth::limited) return;
    for (std::size_t row = 0; row < weight.size(); ++row) {
      if (weight[row] <= 0.0 || (!all_full && grown[row] >= most[row])) continue;
      const bool channel = weight[row] >= 1.0;
      if (all_full && !channel) continue;
      const double share = all_full ? left / (rows.tiers() + 1.0) : left * weight[row] / sum;
      const double step = all_full ? share : std::min(share, most[row] - grown[row]);
      arrangement.row_heights[row] += step;
      grown[row] += step;
    }
  }
  while (stack_rows(plan, measures, arrangement, top).end > bottom + 1e-6) {
    for (int tier = 0; tier <= rows.tiers(); ++tier) {
      double& grown_here = grown[rows.channel(tier)];
      const double back = std::min(grown_here, 0.25);
      arrangement.row_heights[rows.channel(tier)] -= back;
      grown_here -= back;
    }
  }
}

void read_off(const Plan& plan, const Measures& measures, const std::vector<double>& places,
              Placed& placed) {
  const Variables& variables = placed.ordered.variables;
  const Rows& rows = placed.arrangement.rows;
  placed.group_x.assign(places.begin(),
                        places.begin() + static_cast<std::ptrdiff_t>(variables.groups));
  for (std::size_t c = 0; c < plan.chains.size(); ++c)
    placed.chain_x.push_back(placed.group_x[placed.arrangement.group_of[c]] +
                             placed.arrangement.offset_of[c]);
  placed.bar_left.assign(plan.hubs.size(), 0.0);
  placed.bar_right.assign(plan.hubs.size(), 0.0);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const HubKind kind = plan.hubs[h].kind;
    if (plan.hubs[h].frame == none) continue;
    bool any = false;
    const double end = kind == HubKind::bar ? module_width : 0.0;
    for (std::size_t c = 0; c < plan.chains.size(); ++c) {
      if (plan.chains[c].upper != h && plan.chains[c].lower != h) continue;
      const double x = placed.chain_x[c];
      placed.bar_left[h] = any ? std::min(placed.bar_left[h], x - end) : x - end;
      placed.bar_right[h] = any ? std::max(placed.bar_right[h], x + end) : x + end;
      any = true;
    }
  }
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const Frame& frame = plan.frames[f];
    const double left = places[variables.frame_left(f)];
    const double right = places[variables.frame_right(f)];
    const double top = placed.row_top[rows.below(frame.tier, 0)];
    double bottom = placed.row_bottom(rows.below(frame.tier, frame.ranks));
    if (measures.tag_heights[f] > 0.0) bottom = top + measures.tag_heights[f];
    placed.frames.push_back({left, top, right - left, bottom - top});
  }
}

// Frames close in on what they hold: their ends came out wherever there was room.
void hug(const Line& line, const Variables& variables, std::vector<double>& places) {
  for (int round = 0; round < 2; ++round) {
    for (std::size_t f = 0; f < variables.frames; ++f) {
      double left = 1e9;
      double right = -1e9;
      for (const Separation& separation : line.separations) {
        if (separation.before == variables.frame_left(f))
          left = std::min(left, places[separation.after] - separation.least);
        if (separation.after == variables.frame_right(f))
          right = std::max(right, places[separation.before] + separation.least);
      }
      if (left < 1e8) places[variables.frame_left(f)] = left;
      if (right > -1e8) places[variables.frame_right(f)] = right;
    }
  }
}

void hug_bars(const Line& line, const Variables& variables, std::vector<double>& places) {
  for (std::size_t h = 0; h < variables.hubs; ++h) {
    double left = 1e9;
    double right = -1e9;
    for (const Separation& separation : line.separations) {
      if (separation.before == variables.bar_left(h) && separation.after < variables.groups)
        left = std::min(left, places[separation.after] - separation.least);
      if (separation.after == variables.bar_right(h) && separation.before < variables.groups)
        right = std::max(right, places[separation.before] + separation.least);
    }
    if (left < 1e8) places[variables.bar_left(h)] = left;
    if (right > -1e8) places[variables.bar_right(h)] = right;
  }
}

double table_width(const Plan& plan, const Measures& measures) {
  double width = 0.0;
  for (const Hub& hub : plan.hubs)
    if (hub.kind == HubKind::load) width += measures.table.pitch;
  return width;
}

int hard_faults(const Faults& faults) {
  return faults.frames + faults.bars + faults.throws;
}

// What is left at the right goes to both sides.
void centre(const Line& line, std::vector<double>& places) {
  double room = 1e9;
  for (std::size_t i = 0; i < places.size(); ++i)
    room = std::min(room, line.most[i] - places[i]);
  const double shift = std::floor(room / 2.0 / module_width) * module_width;
  if (shift <= 0.0) return;
  for (double& place : places)
    place += shift;
}

// The airiest places that the paper allows.
bool spread(const Plan& plan, const Measures& measures, Placed& placed) {
  for (const double air :
       {35.0, 30.0, 25.0, 20.0, 17.5, 15.0, 12.5, 10.0, 7.5, 5.0, 2.5, 1.25, 0.0}) {
    auto places = settle(placed.ordered.line, air);
    if (!places) continue;
    if (placed.area.growth == Growth::free) centre(placed.ordered.line, *places);
    hug_bars(placed.ordered.line, placed.ordered.variables, *places);
    hug(placed.ordered.line, placed.ordered.variables, *places);
    read_off(plan, measures, *places, placed);
    return true;
  }
  return false;
}

constexpr Spacing tight_spacing{.entry = 7.5, .layers = 5.0, .throws = 3.75, .bottom = 0.0};

// The airier of the two spacings that is not too high; nothing if both are.
std::optional<Arrangement> arrange_in(const site::Site& site, const Metrics& metrics,
                                      const Plan& plan, const Measures& measures,
                                      const Area& area) {
  for (const Spacing& spacing : {Spacing{}, tight_spacing}) {
    Arrangement arrangement = arrange(site, metrics, plan, measures, spacing);
    if (stack_rows(plan, measures, arrangement, area.top).end <= area.bottom + 1e-6)
      return arrangement;
  }
  return std::nullopt;
}

/// How much room is asked for beyond what must be.
struct Ease {
  double name_share = 1.0;  ///< of the names of frames, left of what enters them
  double gap = 2.5;
};

// On a shelf the names of narrow boards come first: that room was measured.
std::vector<Ease> eases_for(const Area& area) {
  const Ease second = area.growth == Growth::limited ? Ease{1.0, 1.25} : Ease{0.75, 2.5};
  return {{1.0, 2.5}, second, {0.75, 1.25}, {0.0, 1.0}};
}

constexpr double near_miss = 12.5;  ///< mm that tighter gaps may save

// What the fullest row lacks however its groups are ordered.
double crowding(const Arrangement& arrangement, double width) {
  constexpr double least_gap = 1.0;
  double lack = 0.0;
  for (std::size_t row = 0; row < arrangement.rows.count(); ++row) {
    double sum = -least_gap;
    for (const ColumnGroup& group : arrangement.groups)
      if (const auto& room = group.rows[row]) sum += room->left + room->right + least_gap;
    lack = std::max(lack, sum - width);
  }
  return lack;
}

// What is missing in width, with the best order; nothing if all has found its place.
Misfit order_and_spread(const Plan& plan, const Measures& measures, Ease ease,
                        const std::vector<std::size_t>& start, Placed& placed) {
  OrderInput input{.plan = plan,
                   .arrangement = placed.arrangement,
                   .measures = measures,
                   .area = placed.area,
                   .thorough = ease.gap <= 1.0,
                   .gap = ease.gap,
                   .name_share = ease.name_share,
                   .start = start};
  for (std::size_t row = 0; row < placed.row_top.size(); ++row)
    input.notched.push_back(placed.row_bottom(row) > placed.area.notch_top + 1e-6);
  Misfit misfit;
  for (const Grid grid : {Grid::ignored, Grid::kept}) {
    input.grid = grid;
    placed.ordered = choose_order(input);
    misfit.faults = hard_faults(placed.ordered.faults);
    misfit.order = placed.ordered.position;
    misfit.width =
        worst_excess(placed.ordered.line, leftmost(placed.ordered.line, 0.0, Grid::kept));
    if (misfit.faults > 0 || misfit.width > near_miss) return misfit;
    if (misfit.width <= 1e-6) break;
  }
  if (misfit.width <= 1e-6 && !spread(plan, measures, placed)) misfit.width = module_width;
  return misfit;
}

// How far right the places reach with all that stands on them.
double reach_of(const Arrangement& arrangement, const Variables& variables,
                const std::vector<double>& places) {
  double reach = 0.0;
  for (std::size_t g = 0; g < variables.groups; ++g)
    for (const auto& room : arrangement.groups[g].rows)
      if (room) reach = std::max(reach, places[g] + room->right);
  for (std::size_t f = 0; f < variables.frames; ++f)
    reach = std::max(reach, places[variables.frame_right(f)]);
  return reach;
}

}  // namespace

Need need_of(const site::Site& site, const Metrics& metrics, const Plan& plan) {
  constexpr double endless = 1e6;
  const Measures measures = measure(site, metrics, plan, tight);
  const Arrangement arrangement = arrange(site, metrics, plan, measures, tight_spacing);
  const OrderInput input{.plan = plan,
                         .arrangement = arrangement,
                         .measures = measures,
                         .area = {.right = endless, .notch_left = endless, .notch_top = endless},
                         .notched = std::vector<bool>(arrangement.rows.count(), false),
                         .grid = Grid::kept,
                         .gap = 1.25,
                         .name_share = 1.0};
  const Ordered ordered = choose_order(input);
  const std::vector<double> places = leftmost(ordered.line, 0.0, Grid::kept);
  Need need;
  need.least.width = reach_of(arrangement, ordered.variables, places);
  need.least.height = stack_rows(plan, measures, arrangement, 0.0).end;
  for (const Hub& hub : plan.hubs)
    need.circuits += hub.kind == HubKind::load ? 1U : 0U;
  return need;
}

double least_height(const site::Site& site, const Metrics& metrics, const Plan& plan) {
  const Measures measures = measure(site, metrics, plan, tight);
  const Arrangement arrangement = arrange(site, metrics, plan, measures, tight_spacing);
  return stack_rows(plan, measures, arrangement, 0.0).end;
}

tl::expected<Placed, Misfit> place(const site::Site& site, const Metrics& metrics, const Plan& plan,
                                   const Measures& measures, const Area& area,
                                   const std::vector<std::size_t>& start) {
  const std::optional<Arrangement> arrangement = arrange_in(site, metrics, plan, measures, area);
  Misfit misfit;
  misfit.order = start;
  misfit.width = std::max(0.0, table_width(plan, measures) - (area.right - area.left));
  if (!arrangement) {
    const Arrangement least = arrange(site, metrics, plan, measures, tight_spacing);
    misfit.height = stack_rows(plan, measures, least, area.top).end - area.bottom;
  }
  if (arrangement)
    misfit.width = std::max(misfit.width, crowding(*arrangement, area.right - area.left));
  if (misfit.height > 1e-6 || misfit.width > 1e-6) return tl::unexpected<Misfit>(misfit);
  const double least = stack_rows(plan, measures, *arrangement, area.top).end;
  const double bottom = std::min(area.bottom, least + area.stretch);
  for (const bool stretched : {true, false}) {
    Placed placed{.arrangement = *arrangement, .area = area};
    if (stretched) stretch(plan, measures, placed.arrangement, area, bottom);
    const Heights heights = stack_rows(plan, measures, placed.arrangement, area.top);
    placed.row_top = heights.tops;
    const bool at_bottom = area.growth == Growth::free;
    placed.table_top =
        (at_bottom ? std::max(heights.end, bottom) : heights.end) - measures.table.height();
    placed.row_top[placed.arrangement.rows.table] = placed.table_top;
    placed.table_bottom = placed.table_top + measures.table.height();
    for (const Ease ease : eases_for(area)) {
      misfit = order_and_spread(plan, measures, ease, misfit.order, placed);
      if (misfit.width <= 1e-6 && misfit.faults == 0) return placed;
      if (misfit.width > 5.0 * near_miss) break;
    }
    if (area.notch_top >= area.bottom - 1e-6) break;
  }
  return tl::unexpected<Misfit>(misfit);
}

}  // namespace linewright::diagram
