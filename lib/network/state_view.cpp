#include "network/state_view.hpp"

#include <algorithm>
#include <array>

#include "network/loops.hpp"

namespace linewright::network {
namespace {

using site::Conductor;

constexpr std::array<Conductor, 3> line_conductors{Conductor::l1, Conductor::l2, Conductor::l3};

class Viewer {
 public:
  Viewer(const Network& network, const site::Site& site, const site::State& state)
      : network_(network), site_(site), state_(state) {}

  StateView run() {
    view_.state = &state_;
    view_.positions = positions_of(network_, site_, state_);
    view_.component = components(network_, view_.positions, false);
    view_.possible_component = components(network_, view_.positions, true);
    sort_sources();
    make_zones();
    find_backfeeds();
    view_.loops = trace_loops(network_, site_, view_.positions, forming_);
    find_alive_loads();
    return std::move(view_);
  }

 private:
  bool running(std::size_t source) const {
    return std::ranges::count(state_.running, network_.sources[source].element) > 0;
  }

  bool lines_meet(std::size_t a, std::size_t b) const {
    for (const Conductor c : line_conductors)
      for (const Conductor d : line_conductors)
        if (view_.joined(line(a, c), line(b, d))) return true;
    return false;
  }

  std::uint32_t line(std::size_t s, Conductor c) const {
    return network_.node(network_.sources[s].element, network_.sources[s].terminal, c);
  }
  std::uint32_t neutral(std::size_t s) const {
    return network_.neutral(network_.sources[s].element, network_.sources[s].terminal);
  }

  /// The supply first, then generators, then inverters, each in the order of the file: the
  /// stronger source makes the voltage and the others follow it, if they can.
  std::vector<std::size_t> by_strength() const {
    std::vector<std::size_t> order;
    for (const int rank : {0, 1, 2})
      for (std::size_t s = 0; s < network_.sources.size(); ++s) {
        const SourcePoint& source = network_.sources[s];
        const bool inverter =
            site::facts<site::Inverter>(site_.elements[source.element]) != nullptr;
        if ((source.utility ? 0 : inverter ? 2 : 1) == rank && running(s)) order.push_back(s);
      }
    return order;
  }

  void sort_sources() {
    for (const std::size_t s : by_strength()) {
      if (network_.sources[s].utility) view_.supply_runs = true;
      bool follows = !network_.sources[s].forming;
      for (const std::size_t other : forming_) {
        if (follows || !lines_meet(s, other)) continue;
        const int set = network_.sources[s].set;
        if (set >= 0 && set == network_.sources[other].set) continue;
        if (in_step(network_, view_.positions, s, other))
          follows = true;
        else
          view_.clashes.push_back({network_.sources[other].element, network_.sources[s].element});
      }
      (follows ? following_ : forming_).push_back(s);
    }
  }

  void make_zones() {
    std::vector<std::vector<std::size_t>> groups;
    for (const std::size_t s : forming_) {
      auto same = std::ranges::find_if(groups, [&](const auto& group) {
        return std::ranges::any_of(group, [&](std::size_t other) {
          return lines_meet(s, other) || view_.joined(neutral(s), neutral(other));
        });
      });
      if (same != groups.end())
        same->push_back(s);
      else
        groups.push_back({s});
    }
    for (const auto& group : groups)
      view_.zones.push_back(zone(group));
  }

  Zone zone(const std::vector<std::size_t>& group) const {
    Zone zone;
    for (const std::size_t s : group)
      zone.sources.push_back(network_.sources[s].element);
    for (const std::size_t f : following_)
      if (std::ranges::any_of(group, [&](std::size_t s) { return lines_meet(s, f); }))
        zone.following.push_back(network_.sources[f].element);
    zone.has_neutral =
        std::ranges::any_of(group, [&](std::size_t s) { return neutral(s) != no_node; });
    for (std::size_t u = 0; u < network_.sources.size(); ++u)
      if (network_.sources[u].utility) meet_supply(group, u, zone);
    for (const Edge& edge : network_.edges)
      if (edge.kind == EdgeKind::bond) count_bond(group, edge, zone);
    return zone;
  }

  void meet_supply(const std::vector<std::size_t>& group, std::size_t supply, Zone& zone) const {
    const auto meets = [&](std::size_t s) { return s != supply && lines_meet(s, supply); };
    if (std::ranges::any_of(group, meets)) zone.supply_lines = true;
    if (in_neutral(group, neutral(supply), false))
      zone.supply_neutral = true;
    else if (in_neutral(group, neutral(supply), true))
      zone.supply_neutral_undecided = true;
  }

  bool in_neutral(const std::vector<std::size_t>& group, std::uint32_t node,
                  bool undecided_too) const {
    return std::ranges::any_of(group, [&](std::size_t s) {
      return undecided_too ? view_.possibly_joined(neutral(s), node)
                           : view_.joined(neutral(s), node);
    });
  }

  void count_bond(const std::vector<std::size_t>& group, const Edge& edge, Zone& zone) const {
    const Closed how = closed(edge, view_.positions);
    if (how == Closed::no || !in_neutral(group, edge.a, true)) return;
    const site::Element& element = site_.elements[edge.element];
    const bool suppliers = site::facts<site::Supply>(element) != nullptr ||
                           site::facts<site::PenSplit>(element) != nullptr;
    const BondPoint point{edge.element, element.where, suppliers, edge.by == fixed};
    const bool sure = how == Closed::yes && in_neutral(group, edge.a, false);
    (sure ? zone.bonds : zone.undecided_bonds).push_back(point);
  }

  void find_backfeeds() {
    for (std::size_t u = 0; u < network_.sources.size(); ++u) {
      if (!network_.sources[u].utility || running(u)) continue;
      for (const std::size_t s : forming_) {
        Backfeed feed{.source = network_.sources[s].element};
        feed.lines = lines_meet(s, u);
        feed.neutral = view_.joined(neutral(s), neutral(u));
        if (feed.lines || feed.neutral) view_.backfeeds.push_back(feed);
      }
    }
  }

  void find_alive_loads() {
    for (std::size_t e = 0; e < site_.elements.size(); ++e)
      if (site::facts<site::LoadGroup>(site_.elements[e]) != nullptr &&
          alive(network_, view_, e, 0))
        view_.alive_loads.push_back(e);
  }

  const Network& network_;
  const site::Site& site_;
  const site::State& state_;
  StateView view_;
  std::vector<std::size_t> forming_;  ///< indices into network.sources
  std::vector<std::size_t> following_;
};

}  // namespace

const Zone* StateView::zone_of(std::size_t source) const {
  for (const Zone& zone : zones)
    if (std::ranges::count(zone.sources, source) + std::ranges::count(zone.following, source) > 0)
      return &zone;
  return nullptr;
}

StateView view(const Network& network, const site::Site& site, const site::State& state) {
  return Viewer(network, site, state).run();
}

bool alive(const Network& network, const StateView& view, std::size_t element,
           std::size_t terminal) {
  for (const SourcePoint& source : network.sources) {
    const bool forms = std::ranges::any_of(view.zones, [&](const Zone& zone) {
      return std::ranges::count(zone.sources, source.element) > 0;
    });
    if (!forms) continue;
    for (const Conductor c : line_conductors)
      for (const Conductor d : line_conductors)
        if (view.joined(network.node(element, terminal, c),
                        network.node(source.element, source.terminal, d)))
          return true;
  }
  return false;
}

}  // namespace linewright::network
