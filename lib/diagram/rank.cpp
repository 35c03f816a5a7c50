#include <algorithm>
#include <deque>
#include <limits>
#include <map>
#include <tuple>

#include "diagram/plan.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

constexpr int far_away = std::numeric_limits<int>::max() / 2;

std::size_t assembly_of(const Site& site, const Piece& piece) {
  return piece.kind == Piece::Kind::element ? site.elements[piece.index].assembly : none;
}

std::size_t frame_for(Plan& plan, std::size_t assembly) {
  for (std::size_t i = 0; i < plan.frames.size(); ++i)
    if (assembly != none && plan.frames[i].assembly == assembly) return i;
  plan.frames.push_back({.assembly = assembly});
  return plan.frames.size() - 1;
}

bool stands_in_frame(const Hub& hub) {
  return hub.kind == HubKind::bar || hub.kind == HubKind::joint || hub.kind == HubKind::changeover;
}

// Frames in the order of the file's assemblies, so that ties keep it; loose hubs get one each.
void make_frames(const Site& site, Plan& plan) {
  std::vector<std::size_t> wanted;
  for (const Hub& hub : plan.hubs)
    if (stands_in_frame(hub) && hub.element != none)
      wanted.push_back(site.elements[hub.element].assembly);
  std::sort(wanted.begin(), wanted.end());
  for (const std::size_t assembly : wanted)
    if (assembly != none) frame_for(plan, assembly);
  for (Hub& hub : plan.hubs) {
    if (!stands_in_frame(hub) || hub.frame != none) continue;
    hub.frame = frame_for(plan, hub.element == none ? none : site.elements[hub.element].assembly);
  }
}

// The hubs at the other ends of each hub's chains.
std::vector<std::vector<std::size_t>> neighbours_of(const Plan& plan) {
  std::vector<std::vector<std::size_t>> neighbours(plan.hubs.size());
  for (const Chain& chain : plan.chains) {
    neighbours[chain.upper].push_back(chain.lower);
    neighbours[chain.lower].push_back(chain.upper);
  }
  return neighbours;
}

// Hops from the supply; from any source where there is no supply.
std::vector<int> distances(const Plan& plan) {
  const auto neighbours = neighbours_of(plan);
  std::vector<int> distance(plan.hubs.size(), far_away);
  std::deque<std::size_t> queue;
  const auto seed = [&](auto wanted) {
    for (std::size_t i = 0; i < plan.hubs.size(); ++i) {
      if (distance[i] != far_away || !wanted(plan.hubs[i])) continue;
      distance[i] = 0;
      queue.push_back(i);
    }
    while (!queue.empty()) {
      const std::size_t at = queue.front();
      queue.pop_front();
      for (const std::size_t next : neighbours[at]) {
        if (distance[next] <= distance[at] + 1) continue;
        distance[next] = distance[at] + 1;
        queue.push_back(next);
      }
    }
  };
  seed([](const Hub& hub) { return hub.kind == HubKind::supply; });
  seed([](const Hub& hub) { return is_source(hub); });
  return distance;
}

bool is_leaf(const Hub& hub) {
  return hub.kind == HubKind::load || hub.kind == HubKind::pendant ||
         hub.kind == HubKind::reference_out;
}

// Small numbers are drawn above: sources, then by distance; a changeover below its throws.
bool must_turn(const Plan& plan, const std::vector<int>& distance, const Chain& chain) {
  const Hub& upper = plan.hubs[chain.upper];
  const Hub& lower = plan.hubs[chain.lower];
  if (is_leaf(upper) != is_leaf(lower)) return is_leaf(upper);
  if (is_source(upper) != is_source(lower)) return is_source(lower);
  const auto enters = [](const Hub& hub, const std::string& port) {
    return hub.kind == HubKind::changeover && port != "common";
  };
  const auto leaves = [](const Hub& hub, const std::string& port) {
    return hub.kind == HubKind::changeover && port == "common";
  };
  const bool upper_ok = leaves(upper, chain.upper_port) || enters(lower, chain.lower_port);
  const bool turned_ok = leaves(lower, chain.lower_port) || enters(upper, chain.upper_port);
  if (upper_ok != turned_ok) return turned_ok;
  return distance[chain.upper] > distance[chain.lower];
}

void turn(Chain& chain) {
  std::swap(chain.upper, chain.lower);
  std::swap(chain.upper_port, chain.lower_port);
  std::reverse(chain.pieces.begin(), chain.pieces.end());
}

// Two sources joined straight: a joint below both keeps them in the top row.
void part_sources(Plan& plan) {
  const std::size_t count = plan.chains.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (!is_source(plan.hubs[plan.chains[i].upper]) || !is_source(plan.hubs[plan.chains[i].lower]))
      continue;
    Chain second{.upper = plan.chains[i].lower, .lower = plan.hubs.size()};
    second.upper_port = plan.chains[i].lower_port;
    plan.hubs.push_back({.kind = HubKind::joint});
    plan.chains[i].lower = second.lower;
    plan.chains[i].lower_port.clear();
    plan.chains.push_back(std::move(second));
  }
}

// An assembly that holds only devices in series gets a joint below the last of them, so that it
// has a frame.
void frame_series(const Site& site, Plan& plan) {
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    const auto has_frame = [&](std::size_t assembly) {
      for (const Frame& frame : plan.frames)
        if (frame.assembly == assembly) return true;
      return false;
    };
    const auto& pieces = plan.chains[i].pieces;
    std::size_t last = none;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      const std::size_t assembly = assembly_of(site, pieces[p]);
      if (assembly == none || has_frame(assembly)) continue;
      last = p;
      while (last + 1 < pieces.size() &&
             (assembly_of(site, pieces[last + 1]) == assembly ||
              (last + 2 < pieces.size() && assembly_of(site, pieces[last + 2]) == assembly)))
        ++last;
      break;
    }
    if (last == none) continue;
    const std::size_t joint = plan.hubs.size();
    const std::size_t assembly = assembly_of(site, pieces[last]);
    plan.hubs.push_back({.kind = HubKind::joint, .element = pieces[last].index});
    plan.hubs.back().frame = frame_for(plan, assembly);
    Chain rest{.upper = joint, .lower = plan.chains[i].lower};
    rest.lower_port = std::move(plan.chains[i].lower_port);
    rest.pieces.assign(pieces.begin() + static_cast<std::ptrdiff_t>(last) + 1, pieces.end());
    plan.chains[i].pieces.resize(last + 1);
    plan.chains[i].lower = joint;
    plan.chains[i].lower_port.clear();
    plan.chains.insert(plan.chains.begin() + static_cast<std::ptrdiff_t>(i) + 1, std::move(rest));
  }
}

// Cuts a chain into a reference that ends it above and one that begins it below.
void cut(const Site& site, Plan& plan, std::size_t chain) {
  Chain below = plan.chains[chain];
  const auto name = [&](std::size_t hub) {
    const std::size_t element = plan.hubs[hub].element;
    return element == none ? std::string() : site.elements[element].designation;
  };
  Hub out{.kind = HubKind::reference_out, .reference = {"to " + name(below.lower)}};
  Hub in{.kind = HubKind::reference_in, .reference = {"from " + name(below.upper)}};
  out.link = plan.links;
  in.link = plan.links++;
  plan.chains[chain].pieces.clear();
  plan.chains[chain].lower = plan.hubs.size();
  plan.chains[chain].lower_port.clear();
  plan.hubs.push_back(std::move(out));
  below.upper = plan.hubs.size();
  below.upper_port.clear();
  plan.hubs.push_back(std::move(in));
  plan.chains.push_back(std::move(below));
}

/// Depth-first search over a graph; the edges that close a loop are noted. Boards may hang from
/// each other however deep, so the way back is kept here, not on the stack of calls.
struct LoopSearch {
  enum class Mark { unseen, on_way, done };
  const std::vector<std::vector<std::pair<std::size_t, std::size_t>>>& out;  ///< vertex, edge
  std::vector<Mark> mark;
  std::vector<std::size_t> closing;

  void visit(std::size_t start) {
    std::vector<std::pair<std::size_t, std::size_t>> way{{start, 0}};  // vertex, edges looked at
    mark[start] = Mark::on_way;
    while (!way.empty()) {
      const std::size_t at = way.back().first;
      if (way.back().second == out[at].size()) {
        mark[at] = Mark::done;
        way.pop_back();
        continue;
      }
      const auto [next, edge] = out[at][way.back().second++];
      if (mark[next] == Mark::on_way) closing.push_back(edge);
      if (mark[next] != Mark::unseen) continue;
      mark[next] = Mark::on_way;
      way.emplace_back(next, 0);
    }
  }
};

// The chains that must be cut so that neither frames nor the hubs inside one form a loop. The
// search starts at what is nearest to the supply.
std::vector<std::size_t> loops(const Plan& plan, const std::vector<int>& distance,
                               bool between_frames) {
  const std::size_t count = between_frames ? plan.frames.size() : plan.hubs.size();
  std::vector<std::vector<std::pair<std::size_t, std::size_t>>> out(count);
  std::vector<std::pair<int, std::size_t>> starts;
  for (std::size_t i = 0; i < count; ++i)
    starts.emplace_back(between_frames ? far_away : distance[i], i);
  for (std::size_t h = 0; between_frames && h < plan.hubs.size(); ++h) {
    if (plan.hubs[h].frame == none) continue;
    int& nearest = starts[plan.hubs[h].frame].first;
    nearest = std::min(nearest, distance[h]);
  }
  std::stable_sort(starts.begin(), starts.end());
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    const Chain& chain = plan.chains[i];
    const std::size_t a = plan.hubs[chain.upper].frame;
    const std::size_t b = plan.hubs[chain.lower].frame;
    if (a == none || b == none || (a != b) != between_frames) continue;
    if (between_frames) {
      out[a].emplace_back(b, i);
    } else {
      out[chain.upper].emplace_back(chain.lower, i);
    }
  }
  LoopSearch search{.out = out, .mark = std::vector(count, LoopSearch::Mark::unseen)};
  for (const auto& [nearest, start] : starts)
    if (search.mark[start] == LoopSearch::Mark::unseen) search.visit(start);
  std::sort(search.closing.begin(), search.closing.end());
  return search.closing;
}

// What an inverter feeds from its backup side stands below what feeds it.
std::vector<std::pair<std::size_t, std::size_t>> through_inverters(const Plan& plan) {
  std::map<std::size_t, std::vector<std::size_t>> backed_up;  // by inverter
  for (const Chain& chain : plan.chains)
    if (chain.upper_port == "backup") backed_up[chain.upper].push_back(chain.lower);
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (const Chain& grid : plan.chains) {
    if (grid.upper_port != "ac") continue;
    for (const std::size_t lower : backed_up[grid.upper])
      pairs.emplace_back(grid.lower, lower);
  }
  return pairs;
}

void raise_ranks(Plan& plan) {
  const auto pairs = through_inverters(plan);
  for (std::size_t round = 0; round <= plan.hubs.size(); ++round) {
    bool changed = false;
    const auto below = [&](std::size_t upper, std::size_t lower) {
      Hub& hub = plan.hubs[lower];
      if (hub.frame == none || hub.frame != plan.hubs[upper].frame || upper == lower) return;
      if (hub.rank > plan.hubs[upper].rank) return;
      hub.rank = plan.hubs[upper].rank + 1;
      changed = true;
    };
    for (const Chain& chain : plan.chains)
      below(chain.upper, chain.lower);
    if (round < plan.hubs.size() / 2)
      for (const auto& [upper, lower] : pairs)
        below(upper, lower);
    if (!changed) break;
  }
}

// Frames below those that feed them; `also` are further pairs of hubs, upper and lower. Whether
// that came to an end: a loop never does.
bool raise_tiers(Plan& plan, const std::vector<std::pair<std::size_t, std::size_t>>& also) {
  for (Frame& frame : plan.frames)
    frame.tier = 1;
  for (std::size_t round = 0; round <= plan.frames.size(); ++round) {
    bool changed = false;
    const auto below = [&](std::size_t upper, std::size_t lower) {
      const std::size_t a = plan.hubs[upper].frame;
      const std::size_t b = plan.hubs[lower].frame;
      if (a == none || b == none || a == b || plan.frames[b].tier > plan.frames[a].tier) return;
      plan.frames[b].tier = plan.frames[a].tier + 1;
      changed = true;
    };
    for (const Chain& chain : plan.chains)
      below(chain.upper, chain.lower);
    for (const auto& [upper, lower] : also)
      below(upper, lower);
    if (!changed) return true;
  }
  return false;
}

}  // namespace

void rank_plan(const Site& site, Plan& plan) {
  part_sources(plan);
  make_frames(site, plan);
  frame_series(site, plan);
  const std::vector<int> distance = distances(plan);
  for (Chain& chain : plan.chains)
    if (must_turn(plan, distance, chain)) turn(chain);
  for (const bool between_frames : {false, true})
    for (const std::size_t chain : loops(plan, distances(plan), between_frames))
      cut(site, plan, chain);
  rank_again(plan);
}

bool is_tree(const Plan& plan) {
  std::vector<int> fed(plan.hubs.size(), 0);
  for (const Chain& chain : plan.chains)
    ++fed[chain.lower];
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (fed[h] > 1 || plan.hubs[h].kind == HubKind::changeover) return false;
  return true;
}

void rank_again(Plan& plan) {
  for (Frame& frame : plan.frames)
    frame = {.assembly = frame.assembly};
  for (Hub& hub : plan.hubs)
    hub.rank = hub.frame == none ? 0 : 1;
  raise_ranks(plan);
  if (!raise_tiers(plan, through_inverters(plan))) raise_tiers(plan, {});
  for (Hub& hub : plan.hubs) {
    hub.tier = 0;
    if (hub.frame == none) continue;
    hub.tier = plan.frames[hub.frame].tier;
    plan.frames[hub.frame].ranks = std::max(plan.frames[hub.frame].ranks, hub.rank);
  }
}

}  // namespace linewright::diagram
