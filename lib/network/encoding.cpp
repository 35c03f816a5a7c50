#include "network/encoding.hpp"

#include <algorithm>
#include <utility>

namespace linewright::network {

Encoding::Encoding(const Network& network, const site::Site& site, const Movement& movement,
                   Laws laws)
    : network_(network),
      site_(site),
      movement_(movement),
      laws_(std::move(laws)),
      lines_(network, is_line_edge) {
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    runs_.push_back(clauses_.fresh());
  add_positions();
  add_barriers();
  for (int by = 0; by < static_cast<int>(network.switches.size()); ++by)
    if (movement.of[static_cast<std::size_t>(by)].mover == Mover::law) add_law(by);
  close_transfers();
  add_supervised();
}

void Encoding::add_positions() {
  for (std::size_t s = 0; s < network_.switches.size(); ++s) {
    std::vector<Literal> literals(network_.switches[s].positions.size(), clauses_.never());
    if (movement_.of[s].positions.size() == 1 && movement_.of[s].positions[0] != unknown) {
      literals[static_cast<std::size_t>(movement_.of[s].positions[0])] = clauses_.always();
    } else if (literals.size() == 2) {
      literals[1] = clauses_.fresh();
      literals[0] = -literals[1];
    } else {
      for (Literal& literal : literals)
        literal = clauses_.fresh();
      clauses_.exactly_one(literals);
    }
    at_.push_back(std::move(literals));
  }
}

void Encoding::add_barriers() {
  for (const Barrier& barrier : movement_.barriers) {
    const Literal holds = clauses_.fresh();
    const auto& apart = barrier.never_together;
    for (std::size_t i = 0; i < apart.size(); ++i)
      for (std::size_t j = i + 1; j < apart.size(); ++j)
        if (apart[i].by != apart[j].by)
          clauses_.any(
              {-holds, -at(apart[i].by, apart[i].position), -at(apart[j].by, apart[j].position)});
    barriers_.push_back(holds);
  }
}

Literal Encoding::at(int by, int position) const {
  return at_[static_cast<std::size_t>(by)][static_cast<std::size_t>(position)];
}

Literal Encoding::closed(std::uint32_t index) {
  const Edge& edge = network_.edges[index];
  const auto maybe = [&] {
    auto& literal = undecided_[index];
    if (literal == 0) literal = clauses_.fresh();
    return literal;
  };
  if (edge.by == fixed) {
    if ((edge.closed_in & 1U) != 0) return clauses_.always();
    return (edge.undecided_in & 1U) != 0 ? maybe() : clauses_.never();
  }
  const std::uint64_t where =
      edge.undecided_in == 0 ? edge.closed_in : (std::uint64_t{1} << 32U | index);
  auto& known = closed_[{edge.by, where}];
  if (known != 0) return known;
  std::vector<Literal> ways;
  const auto& positions = at_[static_cast<std::size_t>(edge.by)];
  for (std::size_t p = 0; p < positions.size(); ++p) {
    if ((edge.closed_in >> p & 1U) != 0)
      ways.push_back(positions[p]);
    else if ((edge.undecided_in >> p & 1U) != 0)
      ways.push_back(clauses_.all_of({positions[p], maybe()}));
  }
  known = ways.size() == 1 ? ways[0] : clauses_.any_of(ways);
  return known;
}

std::vector<Literal> Encoding::closed_of(const std::vector<Joint>& joints) {
  std::vector<Literal> literals;
  for (const Joint& joint : joints)
    literals.push_back(closed(joint.edge));
  return literals;
}

Literal Encoding::standing_open(int by) const {
  std::vector<Literal> literals;
  const auto& positions = at_[static_cast<std::size_t>(by)];
  for (std::size_t p = 0; p < positions.size(); ++p)
    if (is_open_position(network_, by, static_cast<int>(p))) literals.push_back(positions[p]);
  return literals.size() == 1 ? literals[0] : 0;
}

void Encoding::add_law(int by) {
  const Switch& it = network_.switches[static_cast<std::size_t>(by)];
  if (it.part == "transfer")
    add_transfer(by);
  else if (it.part == "bond")
    add_inner_bond(by);
  else
    add_link(by);
}

// A link whose law the file does not give stays free: what hangs on it is open.
void Encoding::add_link(int by) {
  const Switch& it = network_.switches[static_cast<std::size_t>(by)];
  const auto* link = site::facts<site::Bond>(site_.elements[it.element]);
  const auto lawless = [&] { unknown_.emplace_back(clauses_.always(), at(by, 1)); };
  if (link == nullptr || !link->proved_by || link->proved_by->empty()) return lawless();
  std::vector<Literal> open;
  for (const std::size_t contact : *link->proved_by) {
    const int other = proving_switch(network_, contact);
    if (other < 0) return lawless();
    const Literal literal = standing_open(other);
    open.push_back(literal != 0 ? literal : clauses_.never());
  }
  const Literal all_open = clauses_.all_of(open);
  const Literal closed = at(by, 1);
  Literal driven = clauses_.always();
  for (std::size_t s = 0; s < network_.sources.size(); ++s)
    if (site_.elements[network_.sources[s].element].designation == link->driven_by)
      driven = runs(s);
  clauses_.implies({driven, all_open}, {closed});
  clauses_.implies({driven, -all_open}, {-closed});
  at_rest(by, -driven);
}

void Encoding::add_inner_bond(int by) {
  const Switch& it = network_.switches[static_cast<std::size_t>(by)];
  const std::size_t source = source_at(it.element);
  if (source == site::none) return;
  const Literal closed = at(by, 1);
  const int transfer = network_.find_switch(it.element, "transfer");
  at_rest(by, -runs(source));
  if (transfer < 0 && !laws_.bind(it.element)) return;
  const Literal joined =
      transfer >= 0 ? at(transfer, 1)
                    : joined_to_rival(it.element, network_.sources[source].terminal, false);
  clauses_.implies({runs(source), joined}, {-closed});
  clauses_.implies({runs(source), -joined}, {closed});
}

void Encoding::add_supervised() {
  std::map<std::size_t, Literal> company;
  for (const Supervised& it : movement_.supervised) {
    const SourcePoint& source = network_.sources[it.source];
    if (!laws_.bind(source.element)) continue;
    auto& joined = company[it.source];
    if (joined == 0) joined = joined_to_rival(source.element, source.terminal, false);
    const auto& positions = at_[static_cast<std::size_t>(it.by)];
    for (std::size_t p = 0; p < positions.size(); ++p)
      if (!is_open_position(network_, it.by, static_cast<int>(p)))
        clauses_.implies({runs(it.source), positions[p]}, {joined});
  }
}

void Encoding::at_rest(int by, Literal when) {
  const int rest = network_.switches[static_cast<std::size_t>(by)].rest;
  if (rest == unknown)
    unknown_.emplace_back(when, at(by, 1));
  else
    clauses_.implies({when}, {at(by, rest)});
}

Literal Encoding::sure(bool shut) {
  const Literal sure = clauses_.fresh();
  for (const auto& [when, closed] : unknown_)
    clauses_.implies({sure, when}, {shut ? closed : -closed});
  for (const auto& [edge, closed] : undecided_)
    clauses_.implies({sure}, {shut ? closed : -closed});
  return sure;
}

void Encoding::add_transfer(int by) {
  const Switch& it = network_.switches[static_cast<std::size_t>(by)];
  const std::size_t source = source_at(it.element);
  if (source == site::none) return;
  const Literal closed = at(by, 1);
  clauses_.implies({-runs(source)}, {it.rest == 1 ? closed : -closed});
  if (!laws_.bind(it.element)) return;
  const Literal joined = joined_to_rival(it.element, site_.find_terminal(it.element, "ac"), true);
  sees_rival_[it.element] = joined;
  clauses_.implies({runs(source), -joined}, {-closed});
}

/// A transfer contact closes once its inverter sees another source, and with it, in a set that
/// transfers together, every running one of the set. As long as some stand anywhere, it need not.
void Encoding::close_transfers() {
  if (!laws_.of_all) return;
  for (const auto& [element, joined] : sees_rival_) {
    const Literal closed = at(network_.find_switch(element, "transfer"), 1);
    std::vector<Literal> all{joined, runs(source_at(element))};
    for (const site::SynchronisingSet& set : site_.synchronising_sets) {
      if (set.transfer_together != true || std::ranges::count(set.sources, element) == 0) continue;
      for (const std::size_t other : set.sources)
        if (const auto its = sees_rival_.find(other); its != sees_rival_.end())
          all.push_back(clauses_.any_of({-runs(source_at(other)), its->second}));
    }
    const Literal may = clauses_.all_of(all);
    clauses_.implies({may}, {closed});
    clauses_.implies({-may, runs(source_at(element))}, {-closed});
  }
}

/// Sources whose voltage makes a contact of this inverter close or open.
std::vector<std::size_t> Encoding::rivals(std::size_t element, bool of_transfer) const {
  std::vector<std::size_t> others;
  const int own_set = network_.sources[source_at(element)].set;
  for (std::size_t s = 0; s < network_.sources.size(); ++s) {
    const SourcePoint& source = network_.sources[s];
    if (!source.forming || source.element == element) continue;
    const auto* inverter = site::facts<site::Inverter>(site_.elements[source.element]);
    if (of_transfer && inverter != nullptr && inverter->has_backup_side) continue;
    if (!of_transfer && source.set >= 0 && source.set == own_set) continue;
    others.push_back(s);
  }
  return others;
}

/// Whether a line of the terminal is one conductor with a running rival, told exactly: a way if it
/// is, and a label that none of them has if it is not. For a transfer contact all such contacts
/// count as open, as they are before they have seen the other side's voltage.
Literal Encoding::joined_to_rival(std::size_t element, std::size_t terminal, bool of_transfer) {
  std::vector<Ends> from;
  std::vector<Ends> to;
  std::vector<std::uint32_t> groups;
  std::vector<std::uint32_t> nodes = line_nodes(network_, element, terminal);
  for (const std::uint32_t node : nodes) {
    from.push_back({lines_.group(node), clauses_.fresh()});
    groups.push_back(lines_.group(node));
  }
  std::vector<std::pair<std::uint32_t, std::size_t>> ends;
  for (const std::size_t s : rivals(element, of_transfer))
    for (const std::uint32_t node : line_nodes(network_, s)) {
      nodes.push_back(node);
      ends.emplace_back(lines_.group(node), s);
      groups.push_back(lines_.group(node));
    }
  if (from.empty() || ends.empty()) return clauses_.never();
  std::vector<Joint> joints = lines_.between(groups);
  if (of_transfer)
    std::erase_if(joints, [&](const Joint& joint) {
      const int by = network_.edges[joint.edge].by;
      return by != fixed && network_.switches[static_cast<std::size_t>(by)].part == "transfer";
    });
  joints = without_like_lines(network_, lines_, std::move(joints), nodes);
  const std::vector<Literal> closed = closed_of(joints);
  const Literal joined = clauses_.fresh();

  std::vector<Literal> chosen_from;
  std::vector<Literal> chosen_to;
  for (const Ends& end : from)
    chosen_from.push_back(end.chosen);
  for (const auto& [group, source] : ends) {
    const Literal chosen = clauses_.fresh();
    clauses_.implies({chosen}, {runs(source)});
    to.push_back({group, chosen});
    chosen_to.push_back(chosen);
  }
  for (const auto* list : {&chosen_from, &chosen_to}) {
    clauses_.implies({joined}, *list);
    clauses_.at_most_one(*list);
    for (const Literal literal : *list)
      clauses_.implies({literal}, {joined});
  }
  way(joints, from, to, closed);

  std::vector<Ends> sources_of_label;
  for (const Ends& end : from)
    sources_of_label.push_back({end.group, -joined});
  const auto labels = label(joints, sources_of_label, closed);
  for (const auto& [group, source] : ends)
    if (const auto found = labels.find(group); found != labels.end())
      clauses_.implies({-joined, runs(source)}, {-found->second});
  return joined;
}

std::vector<Literal> Encoding::way(const std::vector<Joint>& joints,
                                   const std::vector<Ends>& ends_a, const std::vector<Ends>& ends_b,
                                   const std::vector<Literal>& closed, bool may_cross) {
  std::map<std::uint32_t, std::vector<Literal>> used_at;
  std::map<std::uint32_t, std::pair<std::vector<Literal>, std::vector<Literal>>> chosen_at;
  std::vector<Literal> used;
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const Literal literal = clauses_.fresh();
    clauses_.implies({literal}, {closed[j]});
    used.push_back(literal);
    used_at[joints[j].a].push_back(literal);
    used_at[joints[j].b].push_back(literal);
  }
  for (const Ends& end : ends_a) {
    chosen_at[end.group].first.push_back(end.chosen);
    used_at[end.group];
  }
  for (const Ends& end : ends_b) {
    chosen_at[end.group].second.push_back(end.chosen);
    used_at[end.group];
  }
  for (const auto& [group, literals] : used_at) {
    Literal odd = clauses_.never();
    if (const auto found = chosen_at.find(group); found != chosen_at.end()) {
      const Literal first = clauses_.any_of(found->second.first);
      const Literal second = clauses_.any_of(found->second.second);
      odd = clauses_.any_of({clauses_.all_of({first, -second}), clauses_.all_of({-first, second})});
    }
    if (may_cross)
      clauses_.parity(literals, odd);
    else
      clauses_.path_degree(literals, odd);
  }
  return used;
}

std::map<std::uint32_t, Literal> Encoding::label(const std::vector<Joint>& joints,
                                                 const std::vector<Ends>& from,
                                                 const std::vector<Literal>& closed) {
  std::map<std::uint32_t, Literal> labels;
  const auto of = [&](std::uint32_t group) {
    auto& literal = labels[group];
    if (literal == 0) literal = clauses_.fresh();
    return literal;
  };
  for (const Ends& end : from)
    clauses_.implies({end.chosen}, {of(end.group)});
  for (std::size_t j = 0; j < joints.size(); ++j) {
    clauses_.implies({closed[j], of(joints[j].a)}, {of(joints[j].b)});
    clauses_.implies({closed[j], of(joints[j].b)}, {of(joints[j].a)});
  }
  return labels;
}

Situation Encoding::found() const {
  Situation situation;
  for (const auto& literals : at_) {
    const auto here =
        std::ranges::find_if(literals, [&](Literal literal) { return clauses_.holds(literal); });
    situation.positions.of.push_back(
        here == literals.end() ? unknown : static_cast<int>(here - literals.begin()));
  }
  for (const Literal literal : runs_)
    situation.running.push_back(clauses_.holds(literal));
  follow_laws(network_, site_, movement_, situation);
  return situation;
}

void Encoding::rule_out(const Situation& situation, const std::vector<bool>& matters,
                        Literal when) {
  if (matters.empty()) return clauses_.implies({when}, departures(situation));
  std::vector<Literal> differs;
  for (std::size_t s = 0; s < at_.size(); ++s)
    if (const int there = situation.positions.of[s]; matters[s] && there != unknown)
      differs.push_back(-at_[s][static_cast<std::size_t>(there)]);
  for (std::size_t s = 0; s < runs_.size(); ++s)
    differs.push_back(situation.running[s] ? -runs_[s] : runs_[s]);
  clauses_.implies({when}, differs);
}

std::vector<Literal> Encoding::departures(const Situation& from) const {
  std::vector<Literal> literals;
  for (std::size_t s = 0; s < at_.size(); ++s) {
    const int there = from.positions.of[s];
    if (!is_moved(movement_.of[s]) || there == unknown) continue;
    literals.push_back(-at_[s][static_cast<std::size_t>(there)]);
  }
  for (std::size_t s = 0; s < runs_.size(); ++s)
    literals.push_back(from.running[s] ? -runs_[s] : runs_[s]);
  return literals;
}

}  // namespace linewright::network
