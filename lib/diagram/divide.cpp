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

// Keeps the marked hubs and the chains between them; frames that lose all hubs go.
Plan kept(const Plan& plan, const std::vector<bool>& keep) {
  Plan result;
  result.links = plan.links;
  std::vector<std::size_t> hub_at(plan.hubs.size(), none);
  std::vector<std::size_t> frame_at(plan.frames.size(), none);
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
      if (!keep[h] || plan.hubs[h].frame != f || frame_at[f] != none) continue;
      frame_at[f] = result.frames.size();
      result.frames.push_back(plan.frames[f]);
    }
  }
  for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
    if (!keep[h]) continue;
    hub_at[h] = result.hubs.size();
    result.hubs.push_back(plan.hubs[h]);
    if (plan.hubs[h].frame != none) result.hubs.back().frame = frame_at[plan.hubs[h].frame];
  }
  for (const Chain& chain : plan.chains) {
    if (!keep[chain.upper] || !keep[chain.lower]) continue;
    result.chains.push_back(chain);
    result.chains.back().upper = hub_at[chain.upper];
    result.chains.back().lower = hub_at[chain.lower];
  }
  return result;
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

std::string circuits_words(std::size_t count) {
  if (count == 0) return "drawn on";
  return count == 1 ? "1 circuit" : fmt::format("{} circuits", count);
}

/// Two ends of one reference; the sheet's number is set when all sheets are known.
std::pair<Hub, Hub> reference_pair(Plan& plan, std::string onwards, std::string back) {
  const std::size_t link = plan.links++;
  const Hub out{
      .kind = HubKind::reference_out, .reference = {std::move(onwards), "sheet 00"}, .link = link};
  const Hub in{
      .kind = HubKind::reference_in, .reference = {std::move(back), "sheet 00, A0"}, .link = link};
  return {out, in};
}

// Splits the plan into what is marked, which comes back, and the rest, which stays.
Plan divided(Plan& plan, const std::vector<bool>& inside) {
  Plan part = kept(plan, inside);
  std::vector<bool> outside = inside;
  outside.flip();
  std::vector<std::size_t> loose_elements = std::move(plan.loose_elements);
  std::vector<std::size_t> loose_runs = std::move(plan.loose_runs);
  plan = kept(plan, outside);
  plan.loose_elements = std::move(loose_elements);
  plan.loose_runs = std::move(loose_runs);
  rank_again(plan);
  rank_again(part);
  return part;
}

std::size_t add_hub(Plan& plan, Hub hub) {
  plan.hubs.push_back(std::move(hub));
  return plan.hubs.size() - 1;
}

}  // namespace

std::vector<bool> below_frame(const Plan& plan, std::size_t frame) {
  std::vector<bool> frames(plan.frames.size(), false);
  frames[frame] = true;
  for (bool grown = true; grown;) {
    grown = false;
    for (const Chain& chain : plan.chains) {
      const std::size_t a = plan.hubs[chain.upper].frame;
      const std::size_t b = plan.hubs[chain.lower].frame;
      if (a == none || b == none || !frames[a] || frames[b]) continue;
      frames[b] = true;
      grown = true;
    }
  }
  std::vector<bool> hubs(plan.hubs.size(), false);
  for (std::size_t h = 0; h < hubs.size(); ++h)
    hubs[h] = plan.hubs[h].frame != none && frames[plan.hubs[h].frame];
  for (std::size_t h = 0; h < hubs.size(); ++h) {
    if (!is_source(plan.hubs[h])) continue;
    std::size_t inside = 0;
    std::size_t outside = 0;
    for (const Chain& chain : plan.chains)
      if (chain.upper == h) ++(hubs[chain.lower] ? inside : outside);
    hubs[h] = inside > 0 && outside == 0;
  }
  for (const Chain& chain : plan.chains)
    if (is_end(plan.hubs[chain.lower])) hubs[chain.lower] = hubs[chain.upper];
  return hubs;
}

std::size_t circuits_in(const Plan& plan, const std::vector<bool>& hubs) {
  std::size_t count = 0;
  for (std::size_t h = 0; h < hubs.size(); ++h)
    count += hubs[h] && plan.hubs[h].kind == HubKind::load ? 1U : 0U;
  return count;
}

Plan take_board(const Site& site, Plan& plan, std::size_t frame) {
  std::vector<bool> inside = below_frame(plan, frame);
  const std::string words = circuits_words(circuits_in(plan, inside));
  const std::size_t assembly = plan.frames[frame].assembly;
  const std::size_t chains = plan.chains.size();
  for (std::size_t c = 0; c < chains; ++c) {
    Chain& chain = plan.chains[c];
    if (inside[chain.upper] || !inside[chain.lower]) continue;
    auto [out, in] = reference_pair(
        plan, words, "from " + name_of(site, plan, chain) + home_of(site, plan, chain));
    out.frame = plan.hubs[chain.lower].frame;
    Chain rest = chain;
    const auto entry = static_cast<std::ptrdiff_t>(entry_of(site, chain, assembly));
    rest.pieces.erase(rest.pieces.begin(), rest.pieces.begin() + entry);
    chain.pieces.resize(static_cast<std::size_t>(entry));
    chain.lower = add_hub(plan, std::move(out));
    chain.lower_port.clear();
    rest.upper = add_hub(plan, std::move(in));
    rest.upper_port.clear();
    plan.chains.push_back(std::move(rest));
    inside.push_back(false);
    inside.push_back(true);
  }
  return divided(plan, inside);
}

Plan take_circuits(const Site& site, Plan& plan, std::size_t hub, std::size_t keep) {
  Plan part;
  std::vector<std::size_t> taken;
  for (std::size_t c = 0; c < plan.chains.size(); ++c)
    if (plan.chains[c].upper == hub && plan.hubs[plan.chains[c].lower].kind == HubKind::load)
      taken.push_back(c);
  taken.erase(taken.begin(),
              taken.begin() + static_cast<std::ptrdiff_t>(std::min(keep, taken.size())));
  const std::size_t frame = plan.hubs[hub].frame;
  const std::size_t element = plan.hubs[hub].element;
  const std::string bar = element == none ? std::string() : site.elements[element].designation;
  auto [out, in] = reference_pair(plan, circuits_words(taken.size()), "from " + bar);
  part.links = plan.links;
  part.frames.push_back({.assembly = plan.frames[frame].assembly});
  Hub copy = plan.hubs[hub];
  copy.frame = 0;
  copy.continued = true;
  copy.inner_runs.clear();
  part.hubs = {std::move(in), std::move(copy)};
  part.chains.push_back({.upper = 0, .lower = 1});
  std::vector<bool> keep_hub(plan.hubs.size(), true);
  for (const std::size_t c : taken) {
    Chain chain = plan.chains[c];
    keep_hub[chain.lower] = false;
    part.hubs.push_back(plan.hubs[chain.lower]);
    chain.upper = 1;
    chain.lower = part.hubs.size() - 1;
    part.chains.push_back(std::move(chain));
  }
  plan.chains.push_back({.upper = hub, .lower = plan.hubs.size()});
  plan.hubs.push_back(std::move(out));
  keep_hub.push_back(true);
  keep_hub.flip();
  divided(plan, keep_hub);
  rank_again(part);
  return part;
}

Plan take_source(const Site& site, Plan& plan, std::size_t hub) {
  std::vector<bool> inside(plan.hubs.size(), false);
  inside[hub] = true;
  const std::string name = site.elements[plan.hubs[hub].element].designation;
  const std::size_t chains = plan.chains.size();
  for (std::size_t c = 0; c < chains; ++c) {
    Chain& chain = plan.chains[c];
    if (chain.upper != hub) continue;
    if (is_end(plan.hubs[chain.lower])) {
      inside[chain.lower] = true;
      continue;
    }
    const std::size_t frame = plan.hubs[chain.lower].frame;
    const std::size_t assembly = frame == none ? none : plan.frames[frame].assembly;
    const std::string port = chain.upper_port == "out" ? "" : ":" + chain.upper_port;
    auto [out, in] = reference_pair(
        plan, assembly == none ? "goes on" : "to " + site.assemblies[assembly].designation,
        fmt::format("from {}{}", name, port));
    out.kind = HubKind::reference_out;
    Chain rest = chain;
    const auto entry = static_cast<std::ptrdiff_t>(entry_of(site, chain, assembly));
    rest.pieces.erase(rest.pieces.begin(), rest.pieces.begin() + entry);
    chain.pieces.resize(static_cast<std::size_t>(entry));
    chain.lower = add_hub(plan, std::move(out));
    chain.lower_port.clear();
    rest.upper = add_hub(plan, std::move(in));
    rest.upper_port.clear();
    plan.chains.push_back(std::move(rest));
    inside.push_back(true);
    inside.push_back(false);
  }
  return divided(plan, inside);
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

}  // namespace linewright::diagram
