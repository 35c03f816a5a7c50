#include "network/hazards.hpp"

#include <algorithm>
#include <queue>
#include <set>

#include "network/joining.hpp"
#include "network/joints.hpp"
#include "network/loops.hpp"

namespace linewright::network {
namespace {

using Nodes = std::vector<std::uint32_t>;

class Examiner {
 public:
  Examiner(const Network& network, const site::Site& site, const Situation& situation,
           const HazardScope& scope, std::optional<HazardKind> only)
      : network_(network),
        site_(site),
        situation_(situation),
        scope_(scope),
        only_(only),
        sure_(components(network, situation.positions, false)),
        possible_(anything_undecided() ? components(network, situation.positions, true) : sure_) {}

  std::vector<Hazard> run() {
    for (std::size_t s = 0; s < network_.sources.size(); ++s)
      if (forms(s)) running_.push_back(s);
    if (asked(HazardKind::sources_joined)) find_joined_sources();
    if (asked(HazardKind::dead_supply_fed)) find_fed_supply();
    if (asked(HazardKind::neutral_without_bond) || asked(HazardKind::neutral_bonded_twice))
      for (const std::size_t s : running_)
        judge_bonds(s);
    if (asked(HazardKind::load_without_rcd)) find_loads_without_rcd();
    if (asked(HazardKind::unsupported_load_alive)) find_unsupported_loads();
    return std::move(hazards_);
  }

 private:
  bool asked(HazardKind kind) const { return !only_ || *only_ == kind; }

  bool anything_undecided() const {
    return std::ranges::any_of(network_.edges, [&](const Edge& edge) {
      return closed(edge, situation_.positions) == Closed::undecided;
    });
  }

  bool forms(std::size_t s) const { return situation_.running[s] && network_.sources[s].forming; }
  std::size_t element(std::size_t s) const { return network_.sources[s].element; }
  Nodes lines(std::size_t s) const { return line_nodes(network_, s); }

  static bool meet(const std::vector<std::uint32_t>& component, const Nodes& some,
                   const Nodes& others) {
    return std::ranges::any_of(some, [&](std::uint32_t a) {
      return std::ranges::any_of(others,
                                 [&](std::uint32_t b) { return component[a] == component[b]; });
    });
  }

  void find_joined_sources() {
    for (std::size_t i = 0; i < running_.size(); ++i)
      for (std::size_t j = i + 1; j < running_.size(); ++j) {
        const std::size_t a = running_[i];
        const std::size_t b = running_[j];
        if (!meet(possible_, lines(a), lines(b))) continue;
        if (in_step(network_, situation_.positions, a, b) && meet(sure_, lines(a), lines(b)))
          continue;
        if (network_.sources[a].set >= 0 && network_.sources[a].set == network_.sources[b].set)
          continue;
        hazards_.push_back({.kind = HazardKind::sources_joined,
                            .sources = {element(a), element(b)},
                            .sure = meet(sure_, lines(a), lines(b))});
      }
  }

  void find_fed_supply() {
    for (std::size_t u = 0; u < network_.sources.size(); ++u) {
      if (!network_.sources[u].utility || situation_.running[u]) continue;
      for (const std::size_t s : running_)
        if (meet(possible_, lines(s), lines(u)))
          hazards_.push_back({.kind = HazardKind::dead_supply_fed,
                              .sources = {element(s)},
                              .sure = meet(sure_, lines(s), lines(u))});
    }
  }

  bool feeds_a_load(std::size_t s) const {
    for (std::size_t e = 0; e < site_.elements.size(); ++e)
      if (site::facts<site::LoadGroup>(site_.elements[e]) != nullptr &&
          meet(sure_, lines(s), line_nodes(network_, e, 0)))
        return true;
    return false;
  }

  void judge_bonds(std::size_t s) {
    const std::uint32_t neutral = network_.neutral(element(s), network_.sources[s].terminal);
    if (neutral == no_node || std::ranges::count(scope_.without_bond, element(s)) > 0) return;
    std::vector<std::size_t> bonds;
    std::vector<std::size_t> perhaps;
    for (const Edge& edge : network_.edges) {
      if (edge.kind != EdgeKind::bond) continue;
      const Closed how = closed(edge, situation_.positions);
      if (how == Closed::no || possible_[edge.a] != possible_[neutral]) continue;
      if (how == Closed::yes && sure_[edge.a] == sure_[neutral])
        bonds.push_back(edge.element);
      else
        perhaps.push_back(edge.element);
    }
    if (bonds.empty() && feeds_a_load(s))
      hazards_.push_back({.kind = HazardKind::neutral_without_bond,
                          .sources = {element(s)},
                          .sure = perhaps.empty()});
    const bool surely = bonds.size() > 1;
    bonds.insert(bonds.end(), perhaps.begin(), perhaps.end());
    if (bonds.size() > 1)
      hazards_.push_back({.kind = HazardKind::neutral_bonded_twice,
                          .sources = {element(s)},
                          .bonds = std::move(bonds),
                          .sure = surely});
  }

  void find_loads_without_rcd() {
    if (scope_.loads_with_rcd.empty() || running_.empty()) return;
    std::vector<const RcdNeed*> needs(site_.elements.size(), nullptr);
    for (const RcdNeed& need : scope_.loads_with_rcd)
      if (needs[need.load] == nullptr) needs[need.load] = &need;
    for (const Loop& loop : trace_loops(network_, site_, situation_.positions, running_)) {
      if (loop.return_path == ReturnPath::none) continue;  // its bond is what is missing
      const RcdNeed* need = needs[loop.load];
      if (need == nullptr) continue;
      if (std::ranges::any_of(loop.rcds, [&](const RcdOnLoop& rcd) {
            return rcd.sees && need->accepts(rcd.element);
          }))
        continue;
      hazards_.push_back(
          {.kind = HazardKind::load_without_rcd, .sources = {loop.source}, .load = loop.load});
    }
  }

  void find_unsupported_loads() {
    const bool supply =
        std::ranges::any_of(running_, [&](std::size_t s) { return network_.sources[s].utility; });
    if (supply) return;
    for (const std::size_t load : scope_.loads_not_in_outage)
      for (const std::size_t s : running_) {
        const Nodes there = line_nodes(network_, load, 0);
        if (!meet(possible_, lines(s), there)) continue;
        hazards_.push_back({.kind = HazardKind::unsupported_load_alive,
                            .sources = {element(s)},
                            .load = load,
                            .sure = meet(sure_, lines(s), there)});
        break;
      }
  }

  const Network& network_;
  const site::Site& site_;
  const Situation& situation_;
  const HazardScope& scope_;
  std::optional<HazardKind> only_;
  std::vector<std::uint32_t> sure_;
  std::vector<std::uint32_t> possible_;
  std::vector<std::size_t> running_;  ///< indices into network.sources that make a voltage
  std::vector<Hazard> hazards_;
};

constexpr std::uint32_t nowhere = 0xffffffffU;

/// The edges that led to a node, first one first.
std::vector<std::uint32_t> back_from(const Network& network, const std::vector<std::uint32_t>& by,
                                     std::uint32_t node) {
  std::vector<std::uint32_t> way;
  while (by[node] != nowhere) {
    const Edge& edge = network.edges[by[node]];
    way.push_back(by[node]);
    node = edge.a == node ? edge.b : edge.a;
  }
  std::ranges::reverse(way);
  return way;
}

/// Breadth first over closed edges that `may` be used; the edges of a shortest way, or none.
template <class May>
std::vector<std::uint32_t> shortest(const Network& network, const Nodes& from, const Nodes& to,
                                    May may) {
  std::vector<std::vector<std::uint32_t>> at(network.nodes.size());
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    if (!may(network.edges[e])) continue;
    at[network.edges[e].a].push_back(e);
    at[network.edges[e].b].push_back(e);
  }
  std::vector<std::uint32_t> by(network.nodes.size(), nowhere);
  std::vector<bool> seen(network.nodes.size(), false);
  std::queue<std::uint32_t> next;
  for (const std::uint32_t node : from) {
    seen[node] = true;
    next.push(node);
  }
  while (!next.empty()) {
    const std::uint32_t node = next.front();
    next.pop();
    if (std::ranges::count(to, node) > 0) return back_from(network, by, node);
    for (const std::uint32_t e : at[node]) {
      const std::uint32_t other =
          network.edges[e].a == node ? network.edges[e].b : network.edges[e].a;
      if (seen[other]) continue;
      seen[other] = true;
      by[other] = e;
      next.push(other);
    }
  }
  return {};
}

bool is_rcd(const site::Site& site, std::size_t element) {
  if (element == site::none) return false;
  const auto* device = site::facts<site::Device>(site.elements[element]);
  return device != nullptr && device->residual.has_value();
}

Nodes supply_lines(const Network& network) {
  for (std::size_t u = 0; u < network.sources.size(); ++u)
    if (network.sources[u].utility) return line_nodes(network, u);
  return {};
}

Nodes lines_of_loads(const Network& network, const site::Site& site) {
  Nodes nodes;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(site.elements[e]) != nullptr)
      for (const std::uint32_t node : line_nodes(network, e, 0))
        nodes.push_back(node);
  return nodes;
}

Nodes ends_of_bonds(const Network& network, const Hazard& hazard) {
  Nodes ends;
  for (const Edge& edge : network.edges)
    if (edge.kind == EdgeKind::bond && std::ranges::count(hazard.bonds, edge.element) > 0)
      ends.push_back(edge.a);
  return ends;
}

}  // namespace

bool same_subject(const Hazard& a, const Hazard& b) {
  return a.kind == b.kind && a.sources == b.sources && a.load == b.load;
}

std::vector<Hazard> hazards_in(const Network& network, const site::Site& site,
                               const Situation& situation, const HazardScope& scope,
                               std::optional<HazardKind> only) {
  return Examiner(network, site, situation, scope, only).run();
}

std::vector<std::uint32_t> path_of(const Network& network, const site::Site& site,
                                   const Situation& situation, const Hazard& hazard) {
  const auto conducts = [&](const Edge& edge) {
    return closed(edge, situation.positions) != Closed::no;
  };
  const auto over_lines = [&](const Edge& edge) { return is_line_edge(edge) && conducts(edge); };
  const auto over_neutrals = [&](const Edge& edge) {
    return is_neutral_edge(edge) && conducts(edge);
  };
  const Nodes start = line_nodes(network, source_of(network, hazard.sources.front()));
  switch (hazard.kind) {
    case HazardKind::sources_joined: {
      // Over a contact that one of them closes in step they are not joined out of step.
      const std::size_t one = source_of(network, hazard.sources.front());
      const std::size_t other = source_of(network, hazard.sources[1]);
      const std::set<int> in_step = contacts_in_step(network, one, other);
      const auto out_of_step = [&](const Edge& edge) {
        return over_lines(edge) && !in_step.contains(edge.by);
      };
      const Nodes end = line_nodes(network, other);
      auto apart = shortest(network, start, end, out_of_step);
      return apart.empty() ? shortest(network, start, end, over_lines) : apart;
    }
    case HazardKind::dead_supply_fed:
      return shortest(network, start, supply_lines(network), over_lines);
    case HazardKind::neutral_without_bond:
      return shortest(network, start, lines_of_loads(network, site), over_lines);
    case HazardKind::neutral_bonded_twice: {
      const Nodes ends = ends_of_bonds(network, hazard);
      if (ends.size() < 2) return {};
      return shortest(network, {ends[0]}, {ends[1]}, over_neutrals);
    }
    case HazardKind::load_without_rcd: {
      const auto past_rcds = [&](const Edge& edge) {
        return over_lines(edge) && !is_rcd(site, edge.element);
      };
      const Nodes end = line_nodes(network, hazard.load, 0);
      auto past = shortest(network, start, end, past_rcds);
      // Where every way passes one, it is there but does not see.
      return past.empty() ? shortest(network, start, end, over_lines) : past;
    }
    case HazardKind::unsupported_load_alive:
      return shortest(network, start, line_nodes(network, hazard.load, 0), over_lines);
  }
  return {};
}

}  // namespace linewright::network
