#include "diagram/divide.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

bool is_end(const Hub& hub) {
  return hub.kind == HubKind::load || hub.kind == HubKind::pendant ||
         (hub.kind == HubKind::reference_out && hub.frame == none);
}

// Where a frame has its place in each of the parts that have hubs in it.
struct FrameIn {
  std::size_t frame = 0;
  std::size_t part = 0;
  std::size_t index = 0;  ///< in that part
  friend bool operator<(const FrameIn& a, const FrameIn& b) {
    return std::pair(a.frame, a.part) < std::pair(b.frame, b.part);
  }
  friend bool operator==(const FrameIn& a, const FrameIn& b) {
    return a.frame == b.frame && a.part == b.part;
  }
};

std::vector<FrameIn> frames_in(const Plan& plan, const std::vector<std::size_t>& part_of_hub,
                               std::vector<Plan>& parts) {
  std::vector<FrameIn> frames;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (plan.hubs[h].frame != none) frames.push_back({plan.hubs[h].frame, part_of_hub[h]});
  std::sort(frames.begin(), frames.end());
  frames.erase(std::unique(frames.begin(), frames.end()), frames.end());
  for (FrameIn& frame : frames) {
    frame.index = parts[frame.part].frames.size();
    parts[frame.part].frames.push_back(plan.frames[frame.frame]);
  }
  return frames;
}

// Deals hubs, frames and chains out to the parts; no chain leads from one part to another.
std::vector<Plan> dealt(const Plan& plan, const std::vector<std::size_t>& part_of_hub,
                        std::size_t count) {
  std::vector<Plan> parts(count);
  const std::vector<FrameIn> frames = frames_in(plan, part_of_hub, parts);
  std::vector<std::size_t> hub_at(plan.hubs.size(), none);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    Plan& part = parts[part_of_hub[h]];
    hub_at[h] = part.hubs.size();
    part.hubs.push_back(plan.hubs[h]);
    if (plan.hubs[h].frame == none) continue;
    const FrameIn wanted{plan.hubs[h].frame, part_of_hub[h]};
    part.hubs.back().frame = std::lower_bound(frames.begin(), frames.end(), wanted)->index;
  }
  for (const Chain& chain : plan.chains) {
    Plan& part = parts[part_of_hub[chain.upper]];
    part.chains.push_back(chain);
    part.chains.back().upper = hub_at[chain.upper];
    part.chains.back().lower = hub_at[chain.lower];
  }
  for (Plan& part : parts) {
    part.links = plan.links;
    part.sheet_digits = plan.sheet_digits;
    rank_again(part);
  }
  parts.front().loose_elements = plan.loose_elements;
  parts.front().loose_runs = plan.loose_runs;
  return parts;
}

std::string name_of(const Site& site, const Plan& plan, const Chain& chain) {
  for (const Piece& piece : chain.pieces)
    if (piece.kind == Piece::Kind::element) return site.elements[piece.index].designation;
  const std::size_t element = plan.hubs[chain.upper].element;
  return element == none ? std::string() : site.elements[element].designation;
}

std::string home_of(const Site& site, const Plan& plan, const Chain& chain) {
  const std::size_t frame = plan.hubs[chain.upper].frame;
  const std::size_t assembly = frame == none ? none : plan.frames[frame].assembly;
  return assembly == none ? std::string() : " in " + site.assemblies[assembly].designation;
}

// Where a chain enters the assembly: the pieces from there on stand in it.
std::size_t entry_of(const Site& site, const Chain& chain, std::size_t assembly) {
  for (std::size_t i = 0; i < chain.pieces.size(); ++i) {
    const Piece& piece = chain.pieces[i];
    if (piece.kind == Piece::Kind::element && assembly != none &&
        site.elements[piece.index].assembly == assembly)
      return i;
  }
  return chain.pieces.size();
}

std::string counted(std::size_t count, const std::string& what) {
  return count == 1 ? "1 " + what : fmt::format("{} {}s", count, what);
}

// What the other end shows.
std::string contents_words(std::size_t circuits, std::size_t boards) {
  if (circuits == 0 && boards == 0) return "drawn on";
  return circuits == 0 ? counted(boards, "board") : counted(circuits, "circuit");
}

/// Two ends of one reference; the sheet's number is set when all sheets are known.
std::pair<Hub, Hub> reference_pair(Plan& plan, std::string onwards, std::string back) {
  const std::size_t link = plan.links++;
  const std::string there = fmt::format("sheet {}, A0", std::string(plan.sheet_digits, '0'));
  const Hub out{
      .kind = HubKind::reference_out, .reference = {std::move(onwards), there}, .link = link};
  const Hub in{.kind = HubKind::reference_in, .reference = {std::move(back), there}, .link = link};
  return {out, in};
}

std::size_t add_hub(Plan& plan, Hub hub) {
  plan.hubs.push_back(std::move(hub));
  return plan.hubs.size() - 1;
}

std::size_t assembly_of(const Plan& plan, std::size_t hub) {
  const std::size_t frame = plan.hubs[hub].frame;
  return frame == none ? none : plan.frames[frame].assembly;
}

/// Both ends of a chain that was cut, as hubs of the plan.
struct Cut {
  std::size_t out = none;
  std::size_t in = none;
};

// Ends the chain in one reference and begins what stands in the lower board with the other.
Cut cut(const Site& site, Plan& plan, std::size_t c, std::pair<Hub, Hub> references) {
  Chain& chain = plan.chains[c];
  Chain rest = chain;
  const auto entry =
      static_cast<std::ptrdiff_t>(entry_of(site, chain, assembly_of(plan, chain.lower)));
  rest.pieces.erase(rest.pieces.begin(), rest.pieces.begin() + entry);
  chain.pieces.resize(static_cast<std::size_t>(entry));
  const Cut ends{add_hub(plan, std::move(references.first)),
                 add_hub(plan, std::move(references.second))};
  chain.lower = ends.out;
  chain.lower_port.clear();
  rest.upper = ends.in;
  rest.upper_port.clear();
  plan.chains.push_back(std::move(rest));
  return ends;
}

// Marks all that hangs from the chain's lower end.
void mark_below(const Plan& plan, std::size_t chain, std::size_t part,
                const std::vector<std::vector<std::size_t>>& chains_below,
                std::vector<std::size_t>& part_of_hub) {
  std::vector<std::size_t> waiting{plan.chains[chain].lower};
  while (!waiting.empty()) {
    const std::size_t hub = waiting.back();
    waiting.pop_back();
    part_of_hub[hub] = part;
    for (const std::size_t c : chains_below[hub])
      waiting.push_back(plan.chains[c].lower);
  }
}

std::vector<std::vector<std::size_t>> chains_by_upper(const Plan& plan) {
  std::vector<std::vector<std::size_t>> below(plan.hubs.size());
  for (std::size_t c = 0; c < plan.chains.size(); ++c)
    below[plan.chains[c].upper].push_back(c);
  return below;
}

// The residual-current device ahead of a joint, which its continuation does not show.
std::size_t guard_of(const Site& site, const Plan& plan, std::size_t hub) {
  std::size_t guard = plan.hubs[hub].guard;
  for (const Chain& chain : plan.chains) {
    if (chain.lower != hub || plan.hubs[hub].kind != HubKind::joint) continue;
    for (const Piece& piece : chain.pieces) {
      if (piece.kind != Piece::Kind::element) continue;
      const auto* device = site::facts<site::Device>(site.elements[piece.index]);
      if (device != nullptr && device->residual) guard = piece.index;
    }
  }
  return guard;
}

std::size_t hubs_in(const Plan& plan, const std::vector<std::size_t>& part_of_hub, std::size_t part,
                    HubKind kind) {
  std::size_t count = 0;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    count += part_of_hub[h] == part && plan.hubs[h].kind == kind ? 1U : 0U;
  return count;
}

}  // namespace

std::vector<Plan> parted(const Site& site, Plan plan, std::vector<std::size_t> part_of_hub,
                         std::size_t parts) {
  std::vector<std::size_t> circuits(parts, 0);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    circuits[part_of_hub[h]] += plan.hubs[h].kind == HubKind::load ? 1U : 0U;
  const std::size_t chains = plan.chains.size();
  for (std::size_t c = 0; c < chains; ++c) {
    const Chain& chain = plan.chains[c];
    const std::size_t upper = part_of_hub[chain.upper];
    const std::size_t lower = part_of_hub[chain.lower];
    if (upper == lower) continue;
    auto references =
        reference_pair(plan, contents_words(circuits[lower], 0),
                       "from " + name_of(site, plan, chain) + home_of(site, plan, chain));
    if (assembly_of(plan, chain.lower) != none)
      references.first.frame = plan.hubs[chain.lower].frame;
    cut(site, plan, c, std::move(references));
    part_of_hub.push_back(upper);
    part_of_hub.push_back(lower);
  }
  return dealt(plan, part_of_hub, parts);
}

std::vector<Plan> without_boards(const Site& site, const Plan& plan, const Feeding& feeding,
                                 const std::vector<bool>& leaves) {
  std::vector<std::size_t> part_of_frame(plan.frames.size(), 0);
  std::size_t parts = 1;
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (leaves[f]) part_of_frame[f] = parts++;
  std::vector<std::size_t> order;
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (feeding.above[f] == none) order.push_back(f);
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (const std::size_t below : feeding.below[order[i]]) {
      if (!leaves[below]) part_of_frame[below] = part_of_frame[order[i]];
      order.push_back(below);
    }
  }
  std::vector<std::size_t> part_of_hub(plan.hubs.size(), 0);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (feeding.home[h] != none) part_of_hub[h] = part_of_frame[feeding.home[h]];
  return parted(site, plan, std::move(part_of_hub), parts);
}

std::vector<Plan> take_portions(const Site& site, Plan& plan, std::size_t hub,
                                const std::vector<std::vector<std::size_t>>& portions) {
  const auto chains_below = chains_by_upper(plan);
  const std::size_t element = plan.hubs[hub].element;
  const std::string bar = element == none ? std::string() : site.elements[element].designation;
  const std::size_t guard = guard_of(site, plan, hub);
  std::vector<std::size_t> part_of_hub(plan.hubs.size(), 0);
  for (std::size_t p = 0; p < portions.size(); ++p) {
    for (const std::size_t chain : portions[p])
      mark_below(plan, chain, p + 1, chains_below, part_of_hub);
    Hub copy = plan.hubs[hub];
    copy.continued = true;
    copy.guard = guard;
    copy.inner_runs.clear();
    auto [out, in] =
        reference_pair(plan,
                       contents_words(hubs_in(plan, part_of_hub, p + 1, HubKind::load),
                                      hubs_in(plan, part_of_hub, p + 1, HubKind::reference_out)),
                       "from " + bar);
    const std::size_t below = add_hub(plan, std::move(copy));
    const std::size_t from = add_hub(plan, std::move(in));
    part_of_hub.resize(plan.hubs.size(), p + 1);
    for (const std::size_t chain : portions[p])
      plan.chains[chain].upper = below;
    plan.chains.push_back({.upper = from, .lower = below});
    plan.chains.push_back({.upper = hub, .lower = add_hub(plan, std::move(out))});
    part_of_hub.push_back(0);
  }
  std::vector<Plan> parts = dealt(plan, part_of_hub, portions.size() + 1);
  plan = std::move(parts.front());
  parts.erase(parts.begin());
  return parts;
}

Plan take_source(const Site& site, Plan& plan, std::size_t hub) {
  std::vector<std::size_t> part_of_hub(plan.hubs.size(), 0);
  part_of_hub[hub] = 1;
  const std::string name = site.elements[plan.hubs[hub].element].designation;
  const std::size_t chains = plan.chains.size();
  for (std::size_t c = 0; c < chains; ++c) {
    const Chain& chain = plan.chains[c];
    if (chain.upper != hub) continue;
    if (is_end(plan.hubs[chain.lower])) {
      part_of_hub[chain.lower] = 1;
      continue;
    }
    const std::size_t assembly = assembly_of(plan, chain.lower);
    const std::string port = chain.upper_port == "out" ? "" : ":" + chain.upper_port;
    cut(site, plan, c,
        reference_pair(plan,
                       assembly == none ? "goes on" : "to " + site.assemblies[assembly].designation,
                       fmt::format("from {}{}", name, port)));
    part_of_hub.push_back(1);
    part_of_hub.push_back(0);
  }
  std::vector<Plan> parts = dealt(plan, part_of_hub, 2);
  plan = std::move(parts.front());
  return std::move(parts.back());
}

std::optional<Plan> take_with_bars(const Site& site, Plan& plan,
                                   const std::vector<std::size_t>& hubs) {
  std::vector<std::size_t> part_of_hub(plan.hubs.size(), 0);
  for (const std::size_t hub : hubs)
    part_of_hub[hub] = 1;
  std::vector<std::size_t> bars;
  for (const Chain& chain : plan.chains) {
    if (part_of_hub[chain.upper] != 1 || is_end(plan.hubs[chain.lower])) continue;
    if (plan.hubs[chain.lower].kind != HubKind::bar) return std::nullopt;
    if (std::ranges::count(bars, chain.lower) == 0) bars.push_back(chain.lower);
  }
  const std::string names =
      site.elements[plan.hubs[hubs.front()].element].designation +
      (hubs.size() > 1 ? " … " + site.elements[plan.hubs[hubs.back()].element].designation : "");
  const std::size_t chains = plan.chains.size();
  std::vector<std::size_t> copy_of(plan.hubs.size(), none);
  for (const std::size_t bar : bars) {
    Hub copy = plan.hubs[bar];
    copy.continued = true;
    copy.inner_runs.clear();
    auto [out, in] = reference_pair(plan, "to " + site.elements[plan.hubs[bar].element].designation,
                                    "from " + names);
    copy_of[bar] = add_hub(plan, std::move(copy));
    plan.chains.push_back({.upper = copy_of[bar], .lower = add_hub(plan, std::move(out))});
    part_of_hub.resize(plan.hubs.size(), 1);
    plan.chains.push_back({.upper = add_hub(plan, std::move(in)), .lower = bar});
    part_of_hub.push_back(0);
  }
  for (std::size_t c = 0; c < chains; ++c) {
    Chain& chain = plan.chains[c];
    if (part_of_hub[chain.upper] != 1) continue;
    if (is_end(plan.hubs[chain.lower]))
      part_of_hub[chain.lower] = 1;
    else
      chain.lower = copy_of[chain.lower];
  }
  std::vector<Plan> parts = dealt(plan, part_of_hub, 2);
  plan = std::move(parts.front());
  return std::move(parts.back());
}

Plan joined(Plan left, const Plan& right) {
  const std::size_t hubs = left.hubs.size();
  const std::size_t frames = left.frames.size();
  left.frames.insert(left.frames.end(), right.frames.begin(), right.frames.end());
  for (Hub hub : right.hubs) {
    if (hub.frame != none) hub.frame += frames;
    left.hubs.push_back(std::move(hub));
  }
  for (Chain chain : right.chains) {
    chain.upper += hubs;
    chain.lower += hubs;
    left.chains.push_back(std::move(chain));
  }
  left.links = std::max(left.links, right.links);
  return left;
}

std::vector<std::size_t> boards_on(const Plan& plan) {
  std::vector<bool> drawn(plan.frames.size(), false);
  for (const Hub& hub : plan.hubs)
    if (hub.frame != none && hub.kind != HubKind::reference_out) drawn[hub.frame] = true;
  std::vector<std::size_t> boards;
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    if (drawn[f] && plan.frames[f].assembly != none) boards.push_back(plan.frames[f].assembly);
  return boards;
}

}  // namespace linewright::diagram
