#include <algorithm>

#include "network/questions.hpp"

namespace linewright::network {
namespace {

using Ends = Encoding::Ends;

/// The question of one load, built way by way.
class Builder {
 public:
  Builder(const Network& network, Question& question, const LoadAsked& asked)
      : network_(network),
        encoding_(question.encoding),
        clauses_(question.encoding.clauses()),
        load_(asked.load),
        rcds_(asked.rcds),
        matters_(question.matters),
        lines_(network, is_line_edge, kept()),
        home_(network, is_return_edge, kept()) {
    matters_.assign(network.switches.size(), false);
  }

  Literal run() {
    const Literal wanted = clauses_.fresh();
    for (std::size_t s = 0; s < network_.sources.size(); ++s) {
      if (!network_.sources[s].forming) continue;
      from_.emplace_back(s, clauses_.fresh());
      clauses_.implies({from_.back().second}, {encoding_.runs(s)});
    }
    std::vector<Literal> any;
    for (const auto& [source, literal] : from_)
      any.push_back(literal);
    clauses_.implies({wanted}, any);
    clauses_.at_most_one(any);
    clauses_.implies({wanted}, {line_way(site::none)});
    clauses_.implies({wanted}, {home_way(site::none)});
    for (const std::size_t rcd : rcds_)
      clauses_.implies({wanted}, {line_way(rcd), home_way(rcd)});
    return wanted;
  }

 private:
  Joints::Which kept() const {
    return [this](const Edge& edge) { return std::ranges::count(rcds_, edge.element) > 0; };
  }

  /// A way over the lines that avoids the device.
  Literal line_way(std::size_t avoided) {
    const Literal wanted = clauses_.fresh();
    std::vector<Ends> from;
    std::vector<Ends> to;
    for (const auto& [source, literal] : from_)
      add(line_nodes(network_, source), lines_, {wanted, literal}, from);
    add(line_nodes(network_, load_, 0), lines_, {wanted}, to);
    std::vector<Joint> joints = between(lines_, from, to);
    note(joints);
    std::erase_if(joints, [&](const Joint& joint) {
      return avoided != site::none && network_.edges[joint.edge].element == avoided;
    });
    encoding_.way(joints, from, to, encoding_.closed_of(joints));
    return wanted;
  }

  /// A way home for the earth-fault current; through the device's core, if one is named.
  Literal home_way(std::size_t through) {
    const Literal wanted = clauses_.fresh();
    std::vector<Ends> from;
    std::vector<Ends> to;
    for (const auto& [source, literal] : from_) {
      const SourcePoint& point = network_.sources[source];
      add({network_.neutral(point.element, point.terminal)}, home_, {wanted, literal}, to);
    }
    add({network_.node(load_, 0, site::Conductor::pe)}, home_, {wanted}, from);
    const std::vector<Joint> joints = between(home_, from, to);
    note(joints);
    // Groups hide how their own conductors lie, so the way may seem to cross itself there.
    const auto used = encoding_.way(joints, from, to, encoding_.closed_of(joints), true);
    if (through == site::none || has_parallel_core(through)) return wanted;
    std::vector<Literal> core{-wanted};
    for (std::size_t j = 0; j < joints.size(); ++j)
      if (network_.edges[joints[j].edge].element == through) core.push_back(used[j]);
    clauses_.any(core);
    return wanted;
  }

  /// Whether the device's core lies beside a conductor that joins its two ends for good; then the
  /// joint is none, and any way home may pass it.
  bool has_parallel_core(std::size_t rcd) const {
    return std::ranges::any_of(network_.edges, [&](const Edge& edge) {
      return edge.element == rcd && is_return_edge(edge) &&
             home_.group(edge.a) == home_.group(edge.b);
    });
  }

  void note(const std::vector<Joint>& joints) {
    for (const Joint& joint : joints)
      if (const int by = network_.edges[joint.edge].by; by != fixed)
        matters_[static_cast<std::size_t>(by)] = true;
  }

  /// Under all of `when` exactly one of the nodes is an end.
  void add(const std::vector<std::uint32_t>& nodes, const Joints& joints,
           const std::vector<Literal>& when, std::vector<Ends>& ends) {
    std::vector<Literal> chosen;
    for (const std::uint32_t node : nodes) {
      if (node == no_node) continue;
      ends.push_back({joints.group(node), clauses_.fresh()});
      chosen.push_back(ends.back().chosen);
      for (const Literal condition : when)
        clauses_.implies({chosen.back()}, {condition});
    }
    clauses_.implies(when, chosen);
    clauses_.at_most_one(chosen);
  }

  static std::vector<Joint> between(const Joints& joints, const std::vector<Ends>& from,
                                    const std::vector<Ends>& to) {
    std::vector<std::uint32_t> groups;
    for (const auto* ends : {&from, &to})
      for (const Ends& end : *ends)
        groups.push_back(end.group);
    return joints.between(groups);
  }

  const Network& network_;
  Encoding& encoding_;
  Clauses& clauses_;
  std::size_t load_;
  const std::vector<std::size_t>& rcds_;
  std::vector<bool>& matters_;
  Joints lines_;
  Joints home_;
  std::vector<std::pair<std::size_t, Literal>> from_;  ///< source and the literal that it feeds
};

}  // namespace

QuestionPointer ask_load_without_rcd(const Network& network, const site::Site& site,
                                     const Movement& movement, const LoadAsked& asked,
                                     const Laws& laws) {
  auto question = std::make_unique<Question>(network, site, movement, laws);
  const Literal wanted = Builder(network, *question, asked).run();
  question->targets.push_back({wanted, {.kind = HazardKind::load_without_rcd, .load = asked.load}});
  return question;
}

}  // namespace linewright::network
