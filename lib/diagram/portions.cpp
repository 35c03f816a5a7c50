#include "diagram/portions.hpp"

#include <algorithm>
#include <cmath>

namespace linewright::diagram {
namespace {

using site::none;

constexpr double gap = 2.5;

bool can_end(const Hub& hub) {
  return hub.kind == HubKind::load || hub.kind == HubKind::reference_out;
}

/// How wide things are that hang from the hubs of a plan.
struct Hanging {
  const Plan& plan;
  const Measures& measures;
  std::vector<std::vector<std::size_t>> below;  ///< chains by their upper hub
  std::vector<std::size_t> fed;                 ///< chains that come down to a hub
  std::vector<double> widths;                   ///< by chain; 0: it can not leave its bar

  // What a column takes by itself: words beside its devices and its cable.
  double column(std::size_t chain) const {
    const ChainShape& shape = measures.chains[chain];
    const auto sum = [](const Extent& extent) { return extent.left + extent.right; };
    return gap + std::max({sum(shape.upper.extent), sum(shape.middle.extent),
                           sum(shape.lower.extent), shape.cable_width + 1.25});
  }

  double end_width(std::size_t chain) const {
    const Hub& hub = plan.hubs[plan.chains[chain].lower];
    if (hub.kind == HubKind::load) return measures.table.pitch;
    constexpr double tag_rim = 10.0;
    const double tag = hub.frame == none ? 0.0 : tag_rim + measures.frame_names[hub.frame];
    return std::max(tag, column(chain));
  }
};

Hanging hanging_of(const Plan& plan, const Measures& measures) {
  Hanging hanging{.plan = plan,
                  .measures = measures,
                  .below = std::vector<std::vector<std::size_t>>(plan.hubs.size()),
                  .fed = std::vector<std::size_t>(plan.hubs.size(), 0),
                  .widths = std::vector<double>(plan.chains.size(), 0.0)};
  for (std::size_t c = 0; c < plan.chains.size(); ++c) {
    hanging.below[plan.chains[c].upper].push_back(c);
    ++hanging.fed[plan.chains[c].lower];
  }
  return hanging;
}

// The lower ranks first, so that what hangs from a joint is known before the joint itself.
void size_chains(Hanging& hanging) {
  const Plan& plan = hanging.plan;
  std::vector<std::size_t> order(plan.chains.size());
  for (std::size_t c = 0; c < order.size(); ++c)
    order[c] = c;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return plan.hubs[plan.chains[a].upper].rank > plan.hubs[plan.chains[b].upper].rank;
  });
  for (const std::size_t c : order) {
    const std::size_t lower = plan.chains[c].lower;
    const Hub& hub = plan.hubs[lower];
    if (can_end(hub)) {
      hanging.widths[c] = hanging.end_width(c);
      continue;
    }
    const bool inner = (hub.kind == HubKind::joint || hub.kind == HubKind::bar) &&
                       hub.frame != none && hub.frame == plan.hubs[plan.chains[c].upper].frame;
    if (!inner || hanging.fed[lower] != 1) continue;
    double sum = 0.0;
    bool all = true;
    for (const std::size_t below : hanging.below[lower]) {
      all = all && hanging.widths[below] > 0.0;
      sum += hanging.widths[below];
    }
    if (all && sum > 0.0) hanging.widths[c] = std::max(sum, hanging.column(c));
  }
}

Bar bar_at(const Hanging& hanging, std::size_t hub) {
  Bar bar{.hub = hub, .chains = {}, .widths = {}};
  for (const std::size_t c : hanging.below[hub]) {
    if (hanging.widths[c] <= 0.0) continue;
    bar.chains.push_back(c);
    bar.widths.push_back(hanging.widths[c]);
    bar.width += hanging.widths[c];
  }
  return bar;
}

}  // namespace

std::optional<Bar> widest_bar(const Plan& plan, const Measures& measures, double most) {
  Hanging hanging = hanging_of(plan, measures);
  size_chains(hanging);
  std::optional<Bar> widest;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const HubKind kind = plan.hubs[h].kind;
    if (plan.hubs[h].frame == none || (kind != HubKind::bar && kind != HubKind::joint)) continue;
    Bar bar = bar_at(hanging, h);
    const bool too_wide = std::any_of(bar.widths.begin(), bar.widths.end(),
                                      [&](double width) { return width > most; });
    if (bar.chains.size() < 2 || too_wide) continue;
    if (!widest || bar.width > widest->width) widest = std::move(bar);
  }
  return widest;
}

std::vector<std::vector<std::size_t>> even_portions(const Bar& bar, std::size_t count) {
  std::vector<std::vector<std::size_t>> portions(count);
  const double share = bar.width / static_cast<double>(count);
  double before = 0.0;
  for (std::size_t i = 0; i < bar.chains.size(); ++i) {
    const double middle = before + bar.widths[i] / 2.0;
    const auto portion = std::min(count - 1, static_cast<std::size_t>(middle / share));
    portions[portion].push_back(bar.chains[i]);
    before += bar.widths[i];
  }
  std::erase_if(portions, [](const auto& portion) { return portion.empty(); });
  return portions;
}

}  // namespace linewright::diagram
