#include "network/loops.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace linewright::network {
namespace {

using site::Conductor;

constexpr std::array<Conductor, 3> line_conductors{Conductor::l1, Conductor::l2, Conductor::l3};

bool is_core(Conductor c) {
  return c != Conductor::pe;
}

/// The three graphs that a fault current of one source can take, as block trees from its terminal.
struct SourceTrees {
  std::vector<BlockTree> line;  ///< one a line conductor, from the source's line terminal
  std::vector<std::uint32_t> line_root;
  std::optional<BlockTree> neutral;     ///< N and PEN conductors only
  std::optional<BlockTree> metallic;    ///< N, PE, bonds; without the ground
  std::optional<BlockTree> with_earth;  ///< the same with electrodes
  std::optional<BlockTree> possible_metallic;
  std::optional<BlockTree> possible_with_earth;
};

class Tracer {
 public:
  Tracer(const Network& network, const site::Site& site, const Positions& positions)
      : network_(network), site_(site) {
    for (const Edge& edge : network.edges) {
      ends_.emplace_back(edge.a, edge.b);
      const Closed how = closed(edge, positions);
      sure_.push_back(how == Closed::yes);
      possible_.push_back(how != Closed::no);
      if (how == Closed::undecided) any_undecided_ = true;
    }
  }

  SourceTrees trees(const SourcePoint& source) const {
    SourceTrees trees;
    for (const Conductor c : line_conductors) {
      const std::uint32_t root = network_.node(source.element, source.terminal, c);
      if (root == no_node) continue;
      trees.line_root.push_back(root);
      trees.line.push_back(tree(root, sure_, [](const Edge& e) {
        return e.kind != EdgeKind::bond && e.kind != EdgeKind::earth &&
               site::lines.has(e.conductor);
      }));
    }
    const std::uint32_t n = network_.neutral(source.element, source.terminal);
    if (n == no_node) return trees;
    const auto returns = [](const Edge& e) { return !site::lines.has(e.conductor); };
    const auto over_metal = [](const Edge& e) {
      return !site::lines.has(e.conductor) && e.kind != EdgeKind::earth;
    };
    trees.neutral = tree(n, sure_, [](const Edge& e) {
      return e.kind != EdgeKind::bond && e.kind != EdgeKind::earth &&
             !site::lines.has(e.conductor) && e.conductor != Conductor::pe;
    });
    trees.metallic = metal_tree(n, sure_, over_metal);
    trees.with_earth = tree(n, sure_, returns);
    if (any_undecided_) {
      trees.possible_metallic = metal_tree(n, possible_, over_metal);
      trees.possible_with_earth = tree(n, possible_, returns);
    }
    return trees;
  }

  bool feeds(const SourceTrees& trees, std::size_t load) const {
    for (const Conductor c : line_conductors) {
      const std::uint32_t at = network_.node(load, 0, c);
      if (at == no_node) continue;
      for (const BlockTree& line : trees.line)
        if (line.joined(at)) return true;
    }
    return false;
  }

  Loop trace(const SourcePoint& source, const SourceTrees& trees, std::size_t load) const {
    Loop loop{.load = load, .source = source.element};
    trace_lines(trees, load, loop);
    trace_neutral(trees, load, loop);
    trace_return(trees, load, loop);
    return loop;
  }

 private:
  template <class Allowed>
  BlockTree tree(std::uint32_t root, const std::vector<bool>& base, Allowed allowed) const {
    std::vector<bool> use(base);
    for (std::size_t e = 0; e < use.size(); ++e)
      use[e] = use[e] && allowed(network_.edges[e]);
    return {network_.nodes.size(), ends_, use, root};
  }

  /// Without anything that ends in the ground, the supplier's own link of a TT supply included.
  template <class Allowed>
  BlockTree metal_tree(std::uint32_t root, const std::vector<bool>& base, Allowed allowed) const {
    return tree(root, base, [&](const Edge& e) {
      return allowed(e) && e.a != network_.earth && e.b != network_.earth;
    });
  }

  bool is_device(std::size_t element) const {
    return element != site::none && site::facts<site::Device>(site_.elements[element]) != nullptr;
  }

  void devices_of(const std::vector<std::uint32_t>& edges, std::vector<std::size_t>& into) const {
    for (const std::uint32_t e : edges) {
      const Edge& edge = network_.edges[e];
      if (is_device(edge.element) && std::ranges::count(into, edge.element) == 0)
        into.push_back(edge.element);
    }
  }

  /// Guards of the load: devices on every path of every line of it.
  void trace_lines(const SourceTrees& trees, std::size_t load, Loop& loop) const {
    bool first = true;
    for (const Conductor c : line_conductors) {
      const std::uint32_t at = network_.node(load, 0, c);
      if (at == no_node) continue;
      for (const BlockTree& line : trees.line) {
        const Ways ways = line.to_root(at);
        if (!ways.joined) continue;
        std::vector<std::size_t> guards;
        devices_of(ways.always, guards);
        devices_of(ways.sometimes, loop.line_detours);
        if (first) {
          loop.line_guards = guards;
        } else {
          keep_common(loop.line_guards, guards, loop.line_detours);
        }
        first = false;
      }
    }
  }

  static void keep_common(std::vector<std::size_t>& kept, const std::vector<std::size_t>& other,
                          std::vector<std::size_t>& dropped) {
    for (const std::size_t g : kept)
      if (std::ranges::count(other, g) == 0) dropped.push_back(g);
    std::erase_if(kept, [&](std::size_t g) { return std::ranges::count(other, g) == 0; });
  }

  void trace_neutral(const SourceTrees& trees, std::size_t load, Loop& loop) const {
    const std::uint32_t at = network_.neutral(load, 0);
    if (at == no_node) {
      loop.neutral_joined = true;
      return;
    }
    if (!trees.neutral) return;
    const Ways ways = trees.neutral->to_root(at);
    loop.neutral_joined = ways.joined;
    devices_of(ways.always, loop.neutral_guards);
    devices_of(ways.sometimes, loop.neutral_detours);
  }

  /// The way home from the load's protective conductor. The metal way carries the current where
  /// there is one; the ground beside it is a thousand times the resistance.
  void trace_return(const SourceTrees& trees, std::size_t load, Loop& loop) const {
    const std::uint32_t pe = network_.node(load, 0, Conductor::pe);
    Ways home;
    if (pe != no_node && trees.metallic && trees.metallic->joined(pe)) {
      loop.return_path = ReturnPath::metallic;
      home = trees.metallic->to_root(pe);
    } else if (pe != no_node && trees.with_earth && trees.with_earth->joined(pe)) {
      loop.return_path = ReturnPath::through_earth;
      home = trees.with_earth->to_root(pe);
    }
    loop.possible_return = loop.return_path;
    if (pe != no_node && trees.possible_metallic && loop.return_path != ReturnPath::metallic) {
      if (trees.possible_metallic->joined(pe))
        loop.possible_return = ReturnPath::metallic;
      else if (trees.possible_with_earth->joined(pe))
        loop.possible_return = ReturnPath::through_earth;
    }
    for (const auto* edges : {&home.always, &home.sometimes})
      for (const std::uint32_t e : *edges) {
        const Edge& edge = network_.edges[e];
        if (edge.kind == EdgeKind::bond) loop.bonds.push_back(edge.element);
        if (edge.kind == EdgeKind::earth) loop.electrodes.push_back(edge.element);
      }
    judge_rcds(home, loop);
  }

  bool comes_back_through(std::size_t rcd, const Ways& home) const {
    const auto through = [&](std::uint32_t e) {
      const Edge& edge = network_.edges[e];
      return edge.element == rcd && is_core(edge.conductor);
    };
    return std::ranges::any_of(home.always, through) ||
           std::ranges::any_of(home.sometimes, through);
  }

  void judge_rcds(const Ways& home, Loop& loop) const {
    for (const std::size_t guard : loop.line_guards) {
      const auto* device = site::facts<site::Device>(site_.elements[guard]);
      if (!device->residual) continue;
      RcdOnLoop rcd{.element = guard};
      rcd.blinded = comes_back_through(guard, home);
      rcd.sees = loop.return_path != ReturnPath::none && !rcd.blinded;
      loop.rcds.push_back(rcd);
    }
  }

  const Network& network_;
  const site::Site& site_;
  std::vector<BlockTree::EdgeEnds> ends_;
  std::vector<bool> sure_;
  std::vector<bool> possible_;
  bool any_undecided_ = false;
};

}  // namespace

std::vector<Loop> trace_loops(const Network& network, const site::Site& site,
                              const Positions& positions, const std::vector<std::size_t>& forming) {
  const Tracer tracer(network, site, positions);
  std::vector<SourceTrees> trees;
  for (const std::size_t s : forming)
    trees.push_back(tracer.trees(network.sources[s]));
  std::vector<Loop> loops;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(site.elements[e]) == nullptr) continue;
    for (std::size_t i = 0; i < forming.size(); ++i)
      if (tracer.feeds(trees[i], e))
        loops.push_back(tracer.trace(network.sources[forming[i]], trees[i], e));
  }
  return loops;
}

}  // namespace linewright::network
