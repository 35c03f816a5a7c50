#include "network/questions.hpp"

#include <algorithm>

namespace linewright::network {
namespace {

using Ends = Encoding::Ends;

/// A way over lines between chosen ends, with the literals that choose each end.
class LineWay {
 public:
  LineWay(const Network& network, Encoding& encoding)
      : network_(network), encoding_(encoding), joints_(network, is_line_edge) {}

  /// A literal that makes the way begin (or end) at one of these nodes.
  Literal begin_at(const std::vector<std::uint32_t>& nodes) { return end_at(nodes, from_); }
  Literal stop_at(const std::vector<std::uint32_t>& nodes) { return end_at(nodes, to_); }

  /// Closes the way; nothing more can be added. By joint the literal that it is used.
  std::vector<Literal> close() {
    std::vector<std::uint32_t> groups;
    Clauses& clauses = encoding_.clauses();
    for (const auto* ends : {&from_, &to_}) {
      std::vector<Literal> chosen;
      for (const Ends& end : *ends) {
        groups.push_back(end.group);
        chosen.push_back(end.chosen);
      }
      clauses.at_most_one(chosen);
    }
    between_ = without_like_lines(network_, joints_, joints_.between(groups), nodes_);
    return encoding_.way(between_, from_, to_, encoding_.closed_of(between_));
  }
  const std::vector<Joint>& between() const { return between_; }

 private:
  Literal end_at(const std::vector<std::uint32_t>& nodes, std::vector<Ends>& ends) {
    Clauses& clauses = encoding_.clauses();
    std::vector<Literal> ways;
    for (const std::uint32_t node : nodes) {
      nodes_.push_back(node);
      ends.push_back({joints_.group(node), clauses.fresh()});
      ways.push_back(ends.back().chosen);
    }
    const Literal wanted = clauses.fresh();
    clauses.implies({wanted}, ways);
    return wanted;
  }

  const Network& network_;
  Encoding& encoding_;
  Joints joints_;
  std::vector<std::uint32_t> nodes_;  ///< of the ends
  std::vector<Ends> from_;
  std::vector<Ends> to_;
  std::vector<Joint> between_;
};

bool has_off(const Switch& it) {
  return std::ranges::any_of(it.positions,
                             [](const auto& name) { return name == "open" || name == "0"; });
}

/// Under `when` the way uses none of the contacts that can stand open.
void leave_out(const Network& network, Encoding& encoding, const std::vector<Joint>& joints,
               const std::vector<Literal>& used, const std::set<int>& contacts, Literal when) {
  for (std::size_t j = 0; j < used.size(); ++j) {
    const int by = network.edges[joints[j].edge].by;
    if (contacts.contains(by) && has_off(network.switches[static_cast<std::size_t>(by)]))
      encoding.clauses().implies({when}, {-used[j]});
  }
}

std::vector<std::uint32_t> all_load_nodes(const Network& network, const site::Site& site,
                                          const std::vector<std::size_t>* only) {
  std::vector<std::uint32_t> nodes;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(site.elements[e]) == nullptr) continue;
    if (only != nullptr && std::ranges::count(*only, e) == 0) continue;
    for (const std::uint32_t node : line_nodes(network, e, 0))
      nodes.push_back(node);
  }
  return nodes;
}

std::uint32_t neutral_of(const Network& network, std::size_t s) {
  return network.neutral(network.sources[s].element, network.sources[s].terminal);
}

bool may_lack_a_bond(const Network& network, const HazardScope& scope, std::size_t s) {
  return network.sources[s].forming && neutral_of(network, s) != no_node &&
         std::ranges::count(scope.without_bond, network.sources[s].element) == 0;
}

std::vector<std::uint32_t> bond_edges(const Network& network) {
  std::vector<std::uint32_t> edges;
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    const Edge& edge = network.edges[e];
    if (edge.kind == EdgeKind::bond && (edge.closed_in != 0 || edge.undecided_in != 0))
      edges.push_back(e);
  }
  return edges;
}

}  // namespace

QuestionPointer ask_sources_joined(const Network& network, const site::Site& site,
                                   const Movement& movement, const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  Encoding& encoding = question->encoding;
  LineWay way(network, encoding);
  const std::size_t count = network.sources.size();
  std::vector<Literal> begins(count, 0);
  std::vector<Literal> ends(count, 0);
  for (std::size_t s = 0; s < count; ++s) {
    if (!network.sources[s].forming) continue;
    begins[s] = way.begin_at(line_nodes(network, s));
    ends[s] = way.stop_at(line_nodes(network, s));
  }
  const std::vector<Literal> used = way.close();
  for (std::size_t a = 0; a < count; ++a)
    for (std::size_t b = a + 1; b < count; ++b) {
      const auto& [one, other] = std::pair{network.sources[a], network.sources[b]};
      if (!one.forming || !other.forming || (one.set >= 0 && one.set == other.set)) continue;
      const Literal pair = encoding.clauses().fresh();
      for (const Literal needed : {begins[a], ends[b], encoding.runs(a), encoding.runs(b)})
        encoding.clauses().implies({pair}, {needed});
      leave_out(network, encoding, way.between(), used, contacts_in_step(network, a, b), pair);
      question->targets.push_back(
          {pair, {.kind = HazardKind::sources_joined, .sources = {one.element, other.element}}});
    }
  return question;
}

QuestionPointer ask_dead_supply_fed(const Network& network, const site::Site& site,
                                    const Movement& movement, const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  Encoding& encoding = question->encoding;
  Clauses& clauses = encoding.clauses();
  LineWay way(network, encoding);
  std::vector<Literal> supplies;
  for (std::size_t u = 0; u < network.sources.size(); ++u) {
    if (!network.sources[u].utility) continue;
    const Literal reached = way.stop_at(line_nodes(network, u));
    clauses.implies({reached}, {-encoding.runs(u)});
    supplies.push_back(reached);
  }
  for (std::size_t s = 0; s < network.sources.size() && !supplies.empty(); ++s) {
    if (network.sources[s].utility || !network.sources[s].forming) continue;
    const Literal feeds = clauses.fresh();
    clauses.implies({feeds}, {way.begin_at(line_nodes(network, s))});
    clauses.implies({feeds}, {encoding.runs(s)});
    clauses.implies({feeds}, supplies);
    question->targets.push_back(
        {feeds, {.kind = HazardKind::dead_supply_fed, .sources = {network.sources[s].element}}});
  }
  way.close();
  return question;
}

QuestionPointer ask_neutral_without_bond(const Network& network, const site::Site& site,
                                         const Movement& movement, const HazardScope& scope,
                                         const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  Encoding& encoding = question->encoding;
  Clauses& clauses = encoding.clauses();
  const Joints neutrals(network, is_neutral_edge);
  LineWay way(network, encoding);
  const Literal fed = way.stop_at(all_load_nodes(network, site, nullptr));
  std::vector<Ends> from;
  std::vector<std::uint32_t> groups;
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (!may_lack_a_bond(network, scope, s)) continue;
    const Literal lacks = clauses.fresh();
    for (const Literal needed : {way.begin_at(line_nodes(network, s)), fed, encoding.runs(s)})
      clauses.implies({lacks}, {needed});
    from.push_back({neutrals.group(neutral_of(network, s)), lacks});
    groups.push_back(from.back().group);
    question->targets.push_back(
        {lacks,
         {.kind = HazardKind::neutral_without_bond, .sources = {network.sources[s].element}}});
  }
  way.close();
  for (const std::uint32_t e : bond_edges(network))
    groups.push_back(neutrals.group(network.edges[e].a));
  const std::vector<Joint> joints = neutrals.between(groups);
  const auto labels = encoding.label(joints, from, encoding.closed_of(joints));
  for (const std::uint32_t e : bond_edges(network))
    if (const auto found = labels.find(neutrals.group(network.edges[e].a)); found != labels.end())
      clauses.any({-found->second, -encoding.closed(e)});
  return question;
}

QuestionPointer ask_neutral_bonded_twice(const Network& network, const site::Site& site,
                                         const Movement& movement, const HazardScope& scope,
                                         const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  Encoding& encoding = question->encoding;
  Clauses& clauses = encoding.clauses();
  const Joints neutrals(network, is_neutral_edge);
  std::vector<Ends> from;
  std::vector<std::uint32_t> groups;
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (!may_lack_a_bond(network, scope, s)) continue;
    const Literal twice = clauses.fresh();
    clauses.implies({twice}, {encoding.runs(s)});
    from.push_back({neutrals.group(neutral_of(network, s)), twice});
    groups.push_back(from.back().group);
    question->targets.push_back(
        {twice,
         {.kind = HazardKind::neutral_bonded_twice, .sources = {network.sources[s].element}}});
  }
  std::vector<Literal> begun;
  for (const Ends& end : from)
    begun.push_back(end.chosen);
  clauses.at_most_one(begun);
  std::vector<std::vector<Ends>> to(2);
  for (const std::uint32_t e : bond_edges(network)) {
    groups.push_back(neutrals.group(network.edges[e].a));
    for (auto& ends : to) {
      ends.push_back({groups.back(), clauses.fresh()});
      clauses.implies({ends.back().chosen}, {encoding.closed(e)});
    }
    clauses.any({-to[0].back().chosen, -to[1].back().chosen});
  }
  const std::vector<Joint> joints = neutrals.between(groups);
  const std::vector<Literal> closed = encoding.closed_of(joints);
  for (const auto& ends : to) {
    std::vector<Literal> chosen;
    for (const Ends& end : ends)
      chosen.push_back(end.chosen);
    for (const Target& target : question->targets)
      clauses.implies({target.assumed}, chosen);
    clauses.at_most_one(chosen);
    encoding.way(joints, from, ends, closed);
  }
  return question;
}

QuestionPointer ask_unsupported_load(const Network& network, const site::Site& site,
                                     const Movement& movement, const HazardScope& scope,
                                     const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  Encoding& encoding = question->encoding;
  Clauses& clauses = encoding.clauses();
  if (scope.loads_not_in_outage.empty()) return question;
  LineWay way(network, encoding);
  std::vector<Literal> sources;
  const Literal alive = clauses.fresh();
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (network.sources[s].utility) {
      clauses.implies({alive}, {-encoding.runs(s)});
    } else if (network.sources[s].forming) {
      sources.push_back(way.begin_at(line_nodes(network, s)));
      clauses.implies({sources.back()}, {encoding.runs(s)});
    }
  }
  clauses.implies({alive}, sources);
  clauses.implies({alive},
                  {way.stop_at(all_load_nodes(network, site, &scope.loads_not_in_outage))});
  way.close();
  question->targets.push_back({alive, {.kind = HazardKind::unsupported_load_alive}});
  return question;
}

}  // namespace linewright::network
