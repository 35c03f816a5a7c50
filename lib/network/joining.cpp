#include "network/joining.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <numeric>
#include <utility>

namespace linewright::network {
namespace {

using site::Conductor;

/// Beyond this many partial ways the search is cut short; a house has a few hundred.
constexpr std::size_t most_partial_ways = 50'000;

bool both_are(site::Conductors these, Conductor a, Conductor b) {
  return these.has(a) && these.has(b);
}

class Groups {
 public:
  explicit Groups(std::size_t size) : up_(size) { std::iota(up_.begin(), up_.end(), 0U); }
  std::uint32_t of(std::uint32_t i) {
    while (up_[i] != i)
      i = up_[i] = up_[up_[i]];
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) { up_[of(a)] = of(b); }

 private:
  std::vector<std::uint32_t> up_;
};

/// A contact that joins two groups of nodes while one switch is in one position.
struct Contact {
  std::uint32_t to = 0;
  SwitchAt at;
};

using Way = std::vector<SwitchAt>;

/// The way with one more position, sorted; nothing if the switch stands elsewhere in it already.
std::optional<Way> with(const Way& way, SwitchAt more) {
  const auto place = std::ranges::lower_bound(way, more);
  if (place != way.end() && *place == more) return way;
  if (std::ranges::find(way, more.by, &SwitchAt::by) != way.end()) return std::nullopt;
  Way longer = way;
  longer.insert(longer.begin() + (place - way.begin()), more);
  return longer;
}

bool includes_any(const Way& way, const std::vector<Way>& found) {
  return std::ranges::any_of(found,
                             [&](const Way& other) { return std::ranges::includes(way, other); });
}

class Search {
 public:
  Search(const Network& network, const std::vector<Treat>& treat) : groups_(network.nodes.size()) {
    for (const Edge& edge : network.edges)
      if (is_joint(network, edge) && always(edge, treat)) groups_.join(edge.a, edge.b);
    for (const Edge& edge : network.edges)
      if (is_joint(network, edge) && edge.by != fixed &&
          treat[static_cast<std::size_t>(edge.by)] == Treat::as_it_may)
        add_contacts(network, edge);
  }

  // Breadth first by the number of switches, so that the least sets come out first and every way
  // that contains one found before can be dropped.
  WaysToJoin run(const std::vector<std::uint32_t>& from, const std::vector<std::uint32_t>& to) {
    for (const std::uint32_t node : to)
      goal_.insert(groups_.of(node));
    for (const std::uint32_t node : from)
      put_by({groups_.of(node), {}});
    for (std::size_t size = 0; size < by_size_.size(); ++size)
      while (!by_size_[size].empty()) {
        const Partial partial = std::move(by_size_[size].front());
        by_size_[size].pop_front();
        visit(partial);
        if (seen_.size() > most_partial_ways) return {std::move(ways_), false};
      }
    return {std::move(ways_), true};
  }

 private:
  /// A group of nodes and the positions that lead to it.
  struct Partial {
    std::uint32_t group = 0;
    Way way;
  };

  void put_by(Partial partial) {
    const std::size_t size = partial.way.size();
    if (by_size_.size() <= size) by_size_.resize(size + 1);
    by_size_[size].push_back(std::move(partial));
  }

  void visit(const Partial& partial) {
    const auto& [group, way] = partial;
    if (includes_any(way, ways_) || !seen_.emplace(group, way).second) return;
    if (goal_.contains(group)) {
      ways_.push_back(way);
      return;
    }
    for (const Contact& contact : contacts_[group])
      if (auto longer = with(way, contact.at)) put_by({contact.to, std::move(*longer)});
  }

  /// Lines with lines, or neutrals with neutrals.
  static bool is_joint(const Network& network, const Edge& edge) {
    const Conductor a = network.nodes[edge.a].conductor;
    const Conductor b = network.nodes[edge.b].conductor;
    return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth &&
           (both_are(site::lines, a, b) || both_are({Conductor::n, Conductor::pen}, a, b));
  }

  static bool always(const Edge& edge, const std::vector<Treat>& treat) {
    if (edge.by == fixed) return edge.closed_in != 0 || edge.undecided_in != 0;
    const Treat how = treat[static_cast<std::size_t>(edge.by)];
    return how == Treat::as_closed || how == Treat::bridged;
  }

  void add_contacts(const Network& network, const Edge& edge) {
    const auto a = groups_.of(edge.a);
    const auto b = groups_.of(edge.b);
    if (a == b) return;
    const auto& positions = network.switches[static_cast<std::size_t>(edge.by)].positions;
    for (std::size_t p = 0; p < positions.size(); ++p) {
      if (((edge.closed_in | edge.undecided_in) & (1U << p)) == 0) continue;
      const SwitchAt at{edge.by, static_cast<int>(p)};
      contacts_[a].push_back({b, at});
      contacts_[b].push_back({a, at});
    }
  }

  Groups groups_;
  std::map<std::uint32_t, std::vector<Contact>> contacts_;
  std::set<std::uint32_t> goal_;
  std::set<std::pair<std::uint32_t, Way>> seen_;
  std::vector<std::deque<Partial>> by_size_;
  std::vector<Way> ways_;
};

int strength(site::InterlockMeans means) {
  switch (means) {
    case site::InterlockMeans::mechanical:
    case site::InterlockMeans::key:
      return 3;
    case site::InterlockMeans::electrical:
      return 2;
    case site::InterlockMeans::control:
      return 1;
    case site::InterlockMeans::unknown:
      return 0;
  }
  return 0;
}

bool names(const Network& network, const site::PositionOf& wanted, SwitchAt at) {
  const Switch& it = network.switches[static_cast<std::size_t>(at.by)];
  return it.element == wanted.element && it.part == wanted.part &&
         it.positions[static_cast<std::size_t>(at.position)] == wanted.position;
}

bool forbids(const Network& network, const site::Interlock& interlock,
             const std::vector<SwitchAt>& together) {
  const auto present =
      std::ranges::count_if(interlock.never_together, [&](const site::PositionOf& wanted) {
        return std::ranges::any_of(together,
                                   [&](SwitchAt at) { return names(network, wanted, at); });
      });
  return present >= 2;
}

}  // namespace

WaysToJoin ways_to_join(const Network& network, const std::vector<std::uint32_t>& from,
                        const std::vector<std::uint32_t>& to, const std::vector<Treat>& treat) {
  return Search(network, treat).run(from, to);
}

std::vector<Treat> usual_treatment(const Network& network, const site::Site& site) {
  std::vector<Treat> treat;
  for (const Switch& it : network.switches) {
    bool watched = it.positions.size() != 2 || !it.part.empty() || it.rest != 1;
    if (const auto* device = site::facts<site::Device>(site.elements[it.element]))
      watched = watched || device->kind == site::DeviceKind::changeover;
    for (const site::Interlock& interlock : site.interlocks)
      for (const site::PositionOf& wanted : interlock.never_together)
        watched = watched || (wanted.element == it.element && wanted.part == it.part);
    treat.push_back(watched ? Treat::as_it_may : Treat::as_closed);
  }
  return treat;
}

std::set<int> contacts_in_step(const Network& network, std::size_t source_a, std::size_t source_b) {
  const SourcePoint& a = network.sources[source_a];
  const SourcePoint& b = network.sources[source_b];
  std::set<int> contacts;
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const SourcePoint& source = network.sources[s];
    const bool same_set = source.set >= 0 && (source.set == a.set || source.set == b.set);
    if (s == source_a || s == source_b || same_set)
      contacts.insert(source.synchronised_at.begin(), source.synchronised_at.end());
  }
  return contacts;
}

std::vector<std::uint32_t> line_nodes(const Network& network, std::size_t element,
                                      std::size_t terminal) {
  std::vector<std::uint32_t> nodes;
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3})
    if (const auto node = network.node(element, terminal, c); node != no_node)
      nodes.push_back(node);
  return nodes;
}

std::vector<std::uint32_t> line_nodes(const Network& network, std::size_t source) {
  return line_nodes(network, network.sources[source].element, network.sources[source].terminal);
}

bool any_joined(const StateView& state, const std::vector<std::uint32_t>& some,
                const std::vector<std::uint32_t>& others) {
  for (const auto a : some)
    for (const auto b : others)
      if (state.joined(a, b)) return true;
  return false;
}

bool any_possibly_joined(const StateView& state, const std::vector<std::uint32_t>& some,
                         const std::vector<std::uint32_t>& others) {
  for (const auto a : some)
    for (const auto b : others)
      if (state.possibly_joined(a, b)) return true;
  return false;
}

const site::Interlock* excluded_by(const Network& network, const site::Site& site,
                                   const std::vector<SwitchAt>& together) {
  const site::Interlock* best = nullptr;
  for (const site::Interlock& interlock : site.interlocks) {
    if (!forbids(network, interlock, together)) continue;
    if (best == nullptr || strength(interlock.means) > strength(best->means)) best = &interlock;
  }
  return best;
}

bool lines_joined(const Network& network, const Positions& positions, std::size_t source_a,
                  std::size_t source_b) {
  const auto component = components(network, positions, false);
  for (const std::uint32_t a : line_nodes(network, source_a))
    for (const std::uint32_t b : line_nodes(network, source_b))
      if (component[a] == component[b]) return true;
  return false;
}

bool joined_out_of_step(const Network& network, const Positions& positions, std::size_t source_a,
                        std::size_t source_b) {
  return lines_joined(network, positions, source_a, source_b) &&
         !in_step(network, positions, source_a, source_b);
}

Positions with_open(const Network& network, Positions positions, const std::set<int>& contacts) {
  for (const int contact : contacts) {
    const auto s = static_cast<std::size_t>(contact);
    const auto& names = network.switches[s].positions;
    for (std::size_t p = 0; p < names.size(); ++p)
      if (names[p] == "open" || names[p] == "0") positions.of[s] = static_cast<int>(p);
  }
  return positions;
}

std::size_t source_of(const Network& network, std::size_t element) {
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    if (network.sources[s].element == element) return s;
  return site::none;
}

}  // namespace linewright::network
