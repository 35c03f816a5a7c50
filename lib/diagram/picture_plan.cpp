#include "diagram/picture_plan.hpp"

#include <algorithm>

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;
using Hanging = PictureHub::Hanging;

/// The plan while it shrinks; dropped hubs and chains stay until the end.
struct Work {
  const Site& site;
  const PictureSet& set;
  Plan plan;
  std::vector<PictureHub> hubs;
  std::vector<bool> hub_gone;
  std::vector<bool> chain_gone;

  HubKind kind(std::size_t hub) const { return plan.hubs[hub].kind; }
  bool is_point(std::size_t hub) const {
    return kind(hub) == HubKind::bar || kind(hub) == HubKind::joint;
  }
  std::size_t assembly(std::size_t hub) const {
    const std::size_t element = plan.hubs[hub].element;
    return element == none ? none : site.elements[element].assembly;
  }
  bool draws(const Chain& chain) const {
    return std::ranges::any_of(chain.pieces, [&](const Piece& piece) {
      return piece.kind == Piece::Kind::element && is_drawn(site, set, piece.index);
    });
  }
};

void turn(Chain& chain) {
  std::swap(chain.upper, chain.lower);
  std::swap(chain.upper_port, chain.lower_port);
  std::reverse(chain.pieces.begin(), chain.pieces.end());
}

void add_pieces(std::vector<Piece>& to, const std::vector<Piece>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

Work start(const Site& site, const PictureSet& set) {
  Work work{.site = site, .set = set, .plan = contract(site)};
  work.hubs.resize(work.plan.hubs.size());
  for (std::size_t h = 0; h < work.hubs.size(); ++h) {
    const Hub& hub = work.plan.hubs[h];
    if (hub.element != none) work.hubs[h].covered.push_back({Piece::Kind::element, hub.element});
    for (const std::size_t run : hub.inner_runs)
      work.hubs[h].covered.push_back({Piece::Kind::run, run});
  }
  work.hub_gone.assign(work.plan.hubs.size(), false);
  work.chain_gone.assign(work.plan.chains.size(), false);
  for (Chain& chain : work.plan.chains)
    if (work.kind(chain.upper) == HubKind::load || work.kind(chain.upper) == HubKind::pendant)
      turn(chain);
  return work;
}

// Bonds and the main earthing terminal stay; what else ends in earth tells nothing of a state.
void sort_pendants(Work& work) {
  for (std::size_t c = 0; c < work.plan.chains.size(); ++c) {
    const std::size_t h = work.plan.chains[c].lower;
    if (work.kind(h) != HubKind::pendant) continue;
    Hub& hub = work.plan.hubs[h];
    PictureHub& shown = work.hubs[h];
    shown.element = hub.element;
    hub.element = none;  // the layout gives a bond and a terminal the same room
    if (shown.element != none && is_met(work.site.elements[shown.element])) {
      shown.hanging = Hanging::earth_terminal;
    } else if (shown.element != none &&
               site::facts<site::Bond>(work.site.elements[shown.element]) != nullptr) {
      shown.hanging = Hanging::bond;
    } else {
      work.hub_gone[h] = true;
      work.chain_gone[c] = true;
    }
  }
}

void merge(Work& work, std::size_t keep, std::size_t drop) {
  for (Chain& chain : work.plan.chains) {
    if (chain.upper == drop) chain.upper = keep;
    if (chain.lower == drop) chain.lower = keep;
  }
  add_pieces(work.hubs[keep].covered, work.hubs[drop].covered);
  work.hub_gone[drop] = true;
}

// Bars and joints of one assembly with nothing drawn between them are one point.
void merge_points(Work& work) {
  bool changed = true;
  while (changed) {
    changed = false;
    for (std::size_t c = 0; c < work.plan.chains.size(); ++c) {
      const Chain& chain = work.plan.chains[c];
      if (work.chain_gone[c] || !work.is_point(chain.upper) || !work.is_point(chain.lower))
        continue;
      if (work.draws(chain)) continue;
      const bool loop = chain.upper == chain.lower;
      if (!loop && work.assembly(chain.upper) != work.assembly(chain.lower)) continue;
      const bool upper_stays = loop || work.kind(chain.upper) == HubKind::bar;
      const std::size_t keep = upper_stays ? chain.upper : chain.lower;
      const std::size_t drop = upper_stays ? chain.lower : chain.upper;
      add_pieces(work.hubs[keep].covered, chain.pieces);
      work.chain_gone[c] = true;
      if (!loop) merge(work, keep, drop);
      changed = true;
    }
  }
}

// One stub a point for all circuits that nothing drawn parts from it; the traced one leads.
void gather_circuits(Work& work) {
  std::vector<std::size_t> stub_of(work.plan.hubs.size(), none);
  for (std::size_t c = 0; c < work.plan.chains.size(); ++c) {
    const Chain& chain = work.plan.chains[c];
    if (work.chain_gone[c] || work.kind(chain.lower) != HubKind::load) continue;
    const std::size_t stub = chain.lower;
    work.plan.hubs[stub].kind = HubKind::pendant;
    work.plan.hubs[stub].element = none;
    work.hubs[stub].hanging = Hanging::stub;
    work.hubs[stub].circuits = 1;
    if (work.draws(chain)) continue;
    std::size_t& first = stub_of[chain.upper];
    if (first == none) {
      first = c;
      continue;
    }
    Chain& kept = work.plan.chains[first];
    ++work.hubs[kept.lower].circuits;
    add_pieces(work.hubs[kept.lower].covered, work.hubs[stub].covered);
    const auto& own = work.hubs[stub].covered;
    if (!own.empty() && own.front() == Piece{Piece::Kind::element, work.set.faulty})
      kept.pieces = chain.pieces;
    work.chain_gone[c] = true;
    work.hub_gone[stub] = true;
  }
}

// The chains that end at a hub, as long as there are no more than two of them.
std::vector<std::size_t> chains_at(const Work& work, std::size_t hub) {
  std::vector<std::size_t> chains;
  for (std::size_t c = 0; c < work.plan.chains.size(); ++c) {
    const Chain& chain = work.plan.chains[c];
    if (!work.chain_gone[c] && (chain.upper == hub || chain.lower == hub)) chains.push_back(c);
  }
  return chains;
}

bool is_common(const Work& work, std::size_t hub, const std::string& port) {
  return work.kind(hub) == HubKind::changeover && port == "common";
}

// What leaves a changeover below must not end at a source or another changeover's outlet, which
// both stand at the top of their lines.
bool ends_fit(const Work& work, const Chain& chain) {
  const auto below = [&](std::size_t hub, const std::string& port) {
    return is_common(work, hub, port) || is_source(work.plan.hubs[hub]);
  };
  const bool common = is_common(work, chain.upper, chain.upper_port) ||
                      is_common(work, chain.lower, chain.lower_port);
  return !common || !below(chain.upper, chain.upper_port) || !below(chain.lower, chain.lower_port);
}

// A point that only hands on from one line to another is no point, unless it is all of a board.
void splice(Work& work) {
  for (std::size_t h = 0; h < work.plan.hubs.size(); ++h) {
    if (work.hub_gone[h] || !work.is_point(h)) continue;
    const auto at = chains_at(work, h);
    if (at.size() != 2) continue;
    Chain& above = work.plan.chains[at[0]];
    Chain& below = work.plan.chains[at[1]];
    const bool pendant =
        work.kind(above.lower) == HubKind::pendant || work.kind(below.lower) == HubKind::pendant;
    bool alone = work.assembly(h) != none;
    for (std::size_t other = 0; other < work.plan.hubs.size(); ++other)
      if (other != h && !work.hub_gone[other] && work.assembly(other) == work.assembly(h))
        alone = false;
    if (pendant || alone) continue;
    if (above.lower != h) turn(above);
    if (below.upper != h) turn(below);
    const Chain through{.upper = above.upper,
                        .lower = below.lower,
                        .upper_port = above.upper_port,
                        .lower_port = below.lower_port,
                        .pieces = {}};
    if (above.upper == below.lower || !ends_fit(work, through)) continue;
    add_pieces(above.pieces, work.hubs[h].covered);
    add_pieces(above.pieces, below.pieces);
    above.lower = below.lower;
    above.lower_port = below.lower_port;
    work.chain_gone[at[1]] = true;
    work.hub_gone[h] = true;
  }
}

// What no chain holds any more goes, sources excepted.
void drop_lonely(Work& work) {
  for (std::size_t h = 0; h < work.plan.hubs.size(); ++h)
    if (!work.hub_gone[h] && chains_at(work, h).empty()) work.hub_gone[h] = true;
}

PicturePlan compact(Work& work, Site seen) {
  PicturePlan result{.site = std::move(seen), .plan = {}, .hubs = {}};
  std::vector<std::size_t> index(work.plan.hubs.size(), none);
  for (std::size_t h = 0; h < work.plan.hubs.size(); ++h) {
    if (work.hub_gone[h]) continue;
    index[h] = result.plan.hubs.size();
    result.plan.hubs.push_back(work.plan.hubs[h]);
    result.hubs.push_back(work.hubs[h]);
  }
  for (std::size_t c = 0; c < work.plan.chains.size(); ++c) {
    if (work.chain_gone[c]) continue;
    Chain chain = work.plan.chains[c];
    chain.upper = index[chain.upper];
    chain.lower = index[chain.lower];
    result.plan.chains.push_back(std::move(chain));
  }
  return result;
}

// The same site without what labels would say, and without the places of what is not drawn.
Site seen_by_layout(const Site& site, const PictureSet& set) {
  Site seen = site;
  for (std::size_t e = 0; e < seen.elements.size(); ++e) {
    site::Element& element = seen.elements[e];
    auto* device = std::get_if<site::Device>(&element.facts);
    if (device == nullptr) continue;
    const bool changeover = device->kind == site::DeviceKind::changeover;
    if (changeover) element.designation += " " + position_words("II");
    if (!changeover && !is_drawn(site, set, e)) element.assembly = none;
    site::Device bare;
    bare.kind = device->kind;
    bare.throws = device->throws;
    *device = bare;
  }
  seen.interlocks.clear();
  return seen;
}

}  // namespace

std::string position_words(const std::string& position) {
  return position == "closed" || position == "open" ? position : "at " + position;
}

bool is_drawn(const site::Site& site, const PictureSet& set, std::size_t element) {
  if (site::facts<site::PenSplit>(site.elements[element]) != nullptr) return true;
  return std::ranges::any_of(set.switches, [&](const SwitchId& id) { return id.first == element; });
}

PicturePlan picture_plan(const Site& site, const PictureSet& set) {
  Work work = start(site, set);
  sort_pendants(work);
  merge_points(work);
  gather_circuits(work);
  splice(work);
  drop_lonely(work);
  PicturePlan result = compact(work, seen_by_layout(site, set));
  rank_plan(result.site, result.plan);
  result.hubs.resize(result.plan.hubs.size());
  return result;
}

}  // namespace linewright::diagram
