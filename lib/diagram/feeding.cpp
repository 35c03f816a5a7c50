#include "diagram/feeding.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace linewright::diagram {
namespace {

using site::none;

bool is_end(const Hub& hub) {
  return hub.kind == HubKind::load || hub.kind == HubKind::pendant ||
         (hub.kind == HubKind::reference_out && hub.frame == none);
}

/// What feeds a frame: other frames, or the world outside all of them.
struct Feeders {
  std::vector<std::size_t> frames;
  bool outside = false;
};

/// A source with the frames that its chains lead to.
struct Source {
  std::vector<std::size_t> frames;  ///< without repetition
  std::size_t grid = none;          ///< frame at the grid side of an inverter with a backup side
  bool backup = false;
};

std::vector<Source> sources_of(const Plan& plan) {
  std::vector<Source> sources(plan.hubs.size());
  for (const Chain& chain : plan.chains) {
    const std::size_t frame = plan.hubs[chain.lower].frame;
    if (!is_source(plan.hubs[chain.upper]) || frame == none) continue;
    Source& source = sources[chain.upper];
    if (std::find(source.frames.begin(), source.frames.end(), frame) == source.frames.end())
      source.frames.push_back(frame);
    if (chain.upper_port == "ac") source.grid = frame;
    if (chain.upper_port == "backup") source.backup = true;
  }
  return sources;
}

bool is_private(const Hub& hub, const Source& source) {
  return hub.kind != HubKind::supply && hub.kind != HubKind::reference_in &&
         source.frames.size() == 1;
}

// A source of one frame alone is part of it; an inverter between two frames leads from one to the
// other.
void feed_from_source(const Plan& plan, const Source& source, const Hub& hub,
                      std::vector<Feeders>& feeders) {
  if (is_private(hub, source)) return;
  const bool through = source.backup && source.grid != none;
  for (const std::size_t frame : source.frames) {
    if (!through) {
      feeders[frame].outside = true;
    } else if (frame != source.grid) {
      const bool above = plan.frames[source.grid].tier < plan.frames[frame].tier;
      if (above) feeders[frame].frames.push_back(source.grid);
      feeders[frame].outside = feeders[frame].outside || !above;
    }
  }
}

std::vector<Feeders> feeders_of(const Plan& plan, const std::vector<Source>& sources) {
  std::vector<Feeders> feeders(plan.frames.size());
  for (const Chain& chain : plan.chains) {
    const std::size_t upper = plan.hubs[chain.upper].frame;
    const std::size_t lower = plan.hubs[chain.lower].frame;
    if (upper != none && lower != none && upper != lower) feeders[lower].frames.push_back(upper);
  }
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    feed_from_source(plan, sources[h], plan.hubs[h], feeders);
  return feeders;
}

/// The tree under way, frames of upper tiers first.
struct Tree {
  std::vector<std::size_t> above;
  std::vector<std::size_t> depth;

  // The lowest frame that lies on every way to both.
  std::size_t common(std::size_t a, std::size_t b) const {
    while (a != b) {
      if (a == none || b == none) return none;
      std::size_t& lower = depth[a] >= depth[b] ? a : b;
      lower = above[lower];
    }
    return a;
  }
};

std::vector<std::size_t> frames_above(const Plan& plan, const std::vector<Feeders>& feeders) {
  const std::size_t count = plan.frames.size();
  Tree tree{.above = std::vector<std::size_t>(count, none),
            .depth = std::vector<std::size_t>(count, 0)};
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return plan.frames[a].tier < plan.frames[b].tier;
  });
  for (const std::size_t frame : order) {
    const Feeders& fed = feeders[frame];
    if (fed.outside || fed.frames.empty()) continue;
    std::size_t above = fed.frames.front();
    for (const std::size_t other : fed.frames)
      above = above == none ? none : tree.common(above, other);
    tree.above[frame] = above;
    tree.depth[frame] = above == none ? 0 : tree.depth[above] + 1;
  }
  return tree.above;
}

// The frame that each hub goes with when the sheet is divided.
std::vector<std::size_t> homes_of(const Plan& plan, const std::vector<Source>& sources) {
  std::vector<std::size_t> home(plan.hubs.size(), none);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    const Hub& hub = plan.hubs[h];
    if (hub.frame != none) home[h] = hub.frame;
    if (!is_source(hub) || hub.kind == HubKind::supply) continue;
    if (sources[h].frames.size() == 1 && hub.kind != HubKind::reference_in)
      home[h] = sources[h].frames.front();
    else if (sources[h].backup)
      home[h] = sources[h].grid;
  }
  for (const Chain& chain : plan.chains)
    if (is_end(plan.hubs[chain.lower])) home[chain.lower] = home[chain.upper];
  return home;
}

// The upper frames first: then every frame comes after the one it hangs from.
std::vector<std::size_t> downwards(const Feeding& feeding) {
  std::vector<std::size_t> order;
  for (std::size_t f = 0; f < feeding.above.size(); ++f)
    if (feeding.above[f] == none) order.push_back(f);
  for (std::size_t i = 0; i < order.size(); ++i)
    order.insert(order.end(), feeding.below[order[i]].begin(), feeding.below[order[i]].end());
  return order;
}

}  // namespace

Feeding feeding_of(const Plan& plan) {
  const std::vector<Source> sources = sources_of(plan);
  Feeding feeding;
  feeding.above = frames_above(plan, feeders_of(plan, sources));
  feeding.below.resize(plan.frames.size());
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (feeding.above[f] != none) feeding.below[feeding.above[f]].push_back(f);
  feeding.home = homes_of(plan, sources);
  feeding.circuits.assign(plan.frames.size(), 0);
  feeding.sources.assign(plan.frames.size(), 0);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    if (feeding.home[h] == none) continue;
    if (plan.hubs[h].kind == HubKind::load) ++feeding.circuits[feeding.home[h]];
    if (is_source(plan.hubs[h])) ++feeding.sources[feeding.home[h]];
  }
  const std::vector<std::size_t> order = downwards(feeding);
  for (auto it = order.rbegin(); it != order.rend(); ++it) {
    if (feeding.above[*it] == none) continue;
    feeding.circuits[feeding.above[*it]] += feeding.circuits[*it];
    feeding.sources[feeding.above[*it]] += feeding.sources[*it];
  }
  return feeding;
}

std::vector<std::size_t> subtree(const Feeding& feeding, std::size_t frame) {
  std::vector<std::size_t> frames{frame};
  for (std::size_t i = 0; i < frames.size(); ++i)
    frames.insert(frames.end(), feeding.below[frames[i]].begin(), feeding.below[frames[i]].end());
  return frames;
}

}  // namespace linewright::diagram
