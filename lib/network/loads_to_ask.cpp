#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <queue>
#include <set>

#include "network/blocks.hpp"
#include "network/questions.hpp"

namespace linewright::network {
namespace {

/// The network with everything closed at once that can ever be closed: what is on every way there
/// is on every way in any situation, and what reaches nothing there never does.
class AllClosed {
 public:
  explicit AllClosed(const Network& network) : network_(network), home_at_(network.nodes.size()) {
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
      const Edge& edge = network.edges[e];
      ends_.emplace_back(edge.a, edge.b);
      const bool closes = edge.closed_in != 0 || edge.undecided_in != 0;
      is_line_.push_back(closes && is_line_edge(edge));
      if (!closes || !(is_neutral_edge(edge) || joins_to_earth(edge))) continue;
      home_at_[edge.a].push_back(e);
      home_at_[edge.b].push_back(e);
    }
  }

  /// The lines as blocks, from a root that feeds all of these sources at once.
  BlockTree lines_from(const std::vector<std::size_t>& sources) const {
    const auto root = static_cast<std::uint32_t>(network_.nodes.size());
    std::vector<BlockTree::EdgeEnds> ends = ends_;
    std::vector<bool> use = is_line_;
    for (const std::size_t s : sources)
      for (const std::uint32_t node : line_nodes(network_, s)) {
        ends.emplace_back(root, node);
        use.push_back(true);
      }
    return {network_.nodes.size() + 1, ends, use, root};
  }

  /// The elements on every way to the load, and on some. Nothing if no way leads there.
  struct Passed {
    std::set<std::size_t> always;
    std::set<std::size_t> sometimes;
  };
  std::optional<Passed> passed(const BlockTree& lines, std::size_t load) const {
    std::optional<Passed> all;
    for (const std::uint32_t node : line_nodes(network_, load, 0)) {
      const Ways ways = lines.to_root(node);
      if (!ways.joined) continue;
      Passed here;
      add(ways.always, here.always);
      add(ways.sometimes, here.sometimes);
      if (all) {
        here.sometimes.merge(all->sometimes);
        keep_common(here, all->always);
      }
      all = std::move(here);
    }
    return all;
  }

  /// Whether neutral or earth current of the load can get past the device's core: a joint to
  /// earth on the neutral of the load, with the device taken out.
  bool bond_behind(std::size_t load, std::size_t rcd) const {
    const std::uint32_t start = network_.neutral(load, 0);
    if (start == no_node) return false;
    std::set<std::uint32_t> seen{start};
    std::queue<std::uint32_t> queue({start});
    while (!queue.empty()) {
      const std::uint32_t node = queue.front();
      queue.pop();
      for (const std::uint32_t e : home_at_[node]) {
        const Edge& edge = network_.edges[e];
        if (edge.element == rcd) continue;
        if (joins_to_earth(edge)) return true;
        const std::uint32_t other = edge.a == node ? edge.b : edge.a;
        if (seen.insert(other).second) queue.push(other);
      }
    }
    return false;
  }

 private:
  static bool joins_to_earth(const Edge& edge) {
    return edge.kind == EdgeKind::bond || edge.kind == EdgeKind::earth;
  }

  void add(const std::vector<std::uint32_t>& edges, std::set<std::size_t>& elements) const {
    for (const std::uint32_t e : edges)
      if (e < network_.edges.size()) elements.insert(network_.edges[e].element);
  }

  /// What only one of two lines passes is passed sometimes.
  static void keep_common(Passed& here, const std::set<std::size_t>& other) {
    for (const std::size_t element : other)
      if (!here.always.contains(element)) here.sometimes.insert(element);
    for (auto it = here.always.begin(); it != here.always.end();) {
      if (other.contains(*it)) {
        ++it;
        continue;
      }
      here.sometimes.insert(*it);
      it = here.always.erase(it);
    }
  }

  const Network& network_;
  std::vector<BlockTree::EdgeEnds> ends_;
  std::vector<bool> is_line_;                        ///< by edge
  std::vector<std::vector<std::uint32_t>> home_at_;  ///< by node: edges of neutral and to earth
};

/// Whether one of the accepted devices is on every way to the load and sees all that comes back.
bool is_guarded(const AllClosed& most, const RcdNeed& need, const std::set<std::size_t>& always) {
  return std::ranges::any_of(always, [&](std::size_t element) {
    return need.accepts(element) && !most.bond_behind(need.load, element);
  });
}

/// Those of the loads that some source alone reaches without a guard.
std::set<std::size_t> unguarded_from_one(const AllClosed& most,
                                         const std::vector<std::size_t>& sources,
                                         const std::map<std::size_t, const RcdNeed*>& doubtful) {
  std::set<std::size_t> unguarded;
  for (std::size_t s = 0; s < sources.size() && unguarded.size() < doubtful.size(); ++s) {
    const BlockTree lines = most.lines_from({sources[s]});
    for (const auto& [load, need] : doubtful)
      if (const auto passed = most.passed(lines, load);
          passed && !is_guarded(most, *need, passed->always))
        unguarded.insert(load);
  }
  return unguarded;
}

}  // namespace

// All sources at once first: what guards a load against all of them needs no look at each.
std::vector<LoadAsked> loads_to_ask(const Network& network, const std::vector<RcdNeed>& needs) {
  const AllClosed most(network);
  std::vector<std::size_t> forming;
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    if (network.sources[s].forming) forming.push_back(s);
  const BlockTree from_all = most.lines_from(forming);
  std::map<std::size_t, const RcdNeed*> doubtful;
  std::map<std::size_t, LoadAsked> asked;
  for (const RcdNeed& need : needs) {
    const auto passed = most.passed(from_all, need.load);
    if (!passed || is_guarded(most, need, passed->always)) continue;
    if (!doubtful.emplace(need.load, &need).second) continue;
    LoadAsked& it = asked[need.load];
    it.load = need.load;
    for (const std::set<std::size_t>& elements : {passed->always, passed->sometimes})
      std::ranges::copy_if(elements, std::back_inserter(it.rcds),
                           [&](std::size_t element) { return need.accepts(element); });
    std::ranges::sort(it.rcds);
    const auto twice = std::ranges::unique(it.rcds);
    it.rcds.erase(twice.begin(), twice.end());
  }
  const auto unguarded = unguarded_from_one(most, forming, doubtful);
  std::vector<LoadAsked> list;
  for (auto& [load, it] : asked)
    if (unguarded.contains(load)) list.push_back(std::move(it));
  return list;
}

}  // namespace linewright::network
