#include "check/meeting.hpp"

#include <algorithm>

#include "network/joining.hpp"

namespace linewright::check {
namespace {

using network::line_nodes;

/// Joined only over what the file leaves open.
bool perhaps_only(const network::Network& net, const network::StateView& state, std::size_t a,
                  std::size_t b) {
  return !network::any_joined(state, line_nodes(net, a), line_nodes(net, b)) &&
         network::any_possibly_joined(state, line_nodes(net, a), line_nodes(net, b));
}

/// Line nodes reached from a source with every switch in every position, connectors left out.
std::vector<bool> reached_unplugged(const AnalysedSite& site, std::size_t source) {
  const network::Network& net = site.network;
  std::vector<bool> reached(net.nodes.size(), false);
  std::vector<std::uint32_t> next = line_nodes(net, source);
  for (const auto node : next)
    reached[node] = true;
  std::vector<std::vector<std::uint32_t>> beside(net.nodes.size());
  for (const network::Edge& edge : net.edges) {
    if (edge.kind == network::EdgeKind::bond || edge.kind == network::EdgeKind::earth) continue;
    if (edge.element != site::none &&
        site::facts<site::Connector>(site.element(edge.element)) != nullptr)
      continue;
    beside[edge.a].push_back(edge.b);
    beside[edge.b].push_back(edge.a);
  }
  while (!next.empty()) {
    const auto node = next.back();
    next.pop_back();
    for (const auto other : beside[node]) {
      if (reached[other]) continue;
      reached[other] = true;
      next.push_back(other);
    }
  }
  return reached;
}

bool reaches(const AnalysedSite& site, const std::vector<bool>& reached, std::size_t element) {
  for (std::size_t t = 0; t < site.element(element).terminals.size(); ++t)
    for (const auto node : line_nodes(site.network, element, t))
      if (reached[node]) return true;
  return false;
}

bool meets_in_bypass(const AnalysedSite& site, SourcePair pair) {
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return state.state->kind == site::StateKind::bypass &&
           network::joined_out_of_step(site.network, state.positions, pair.a, pair.b);
  });
}

/// Pairs that meet in a named state are the business of the rules on named states.
bool meets_somewhere(const AnalysedSite& site, SourcePair pair) {
  const std::size_t a = site.network.sources[pair.a].element;
  const std::size_t b = site.network.sources[pair.b].element;
  return meet_in_named_state(site, a, b) || meets_in_bypass(site, pair) ||
         pins_alive_from(site, a, b) || pins_alive_from(site, b, a);
}

bool is_inverter(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Inverter>(site.element(element)) != nullptr;
}

}  // namespace

bool runs(const network::StateView& state, std::size_t element) {
  return std::ranges::count(state.state->running, element) > 0;
}

bool meet_in_named_state(const AnalysedSite& site, std::size_t element_a, std::size_t element_b) {
  const auto supply = [&](std::size_t element) {
    return site::facts<site::Supply>(site.element(element)) != nullptr;
  };
  for (const network::StateView& state : site.states) {
    for (const network::Clash& clash : state.clashes)
      if ((clash.source_a == element_a && clash.source_b == element_b) ||
          (clash.source_a == element_b && clash.source_b == element_a))
        return true;
    for (const network::Backfeed& feed : state.backfeeds)
      if (feed.lines && ((feed.source == element_a && supply(element_b)) ||
                         (feed.source == element_b && supply(element_a))))
        return true;
  }
  return false;
}

std::vector<SourcePair> pairs_kept_apart(const AnalysedSite& site) {
  const auto& sources = site.network.sources;
  std::vector<SourcePair> pairs;
  for (std::size_t a = 0; a < sources.size(); ++a)
    for (std::size_t b = a + 1; b < sources.size(); ++b) {
      if (!sources[a].forming || !sources[b].forming) continue;
      if (sources[a].set >= 0 && sources[a].set == sources[b].set) continue;
      if (!meets_somewhere(site, {a, b})) pairs.push_back({a, b});
    }
  return pairs;
}

std::vector<network::Treat> treatment_of(const AnalysedSite& site, SourcePair pair) {
  std::vector<network::Treat> treat = network::usual_treatment(site.network, site.site);
  for (const int s : network::contacts_in_step(site.network, pair.a, pair.b))
    treat[static_cast<std::size_t>(s)] = network::Treat::as_open;
  return treat;
}

BypassedOutputs bypassed_outputs(const AnalysedSite& site, const network::StateView& state) {
  const network::Network& net = site.network;
  BypassedOutputs outputs;
  for (std::size_t i = 0; i < net.sources.size(); ++i) {
    const std::size_t inverter = net.sources[i].element;
    if (!net.sources[i].forming || !is_inverter(site, inverter)) continue;
    bool meets = false;
    bool may_meet = false;
    for (std::size_t s = 0; s < net.sources.size(); ++s) {
      const network::SourcePoint& source = net.sources[s];
      if (!source.forming || is_inverter(site, source.element) || !runs(state, source.element))
        continue;
      meets = meets || network::joined_out_of_step(net, state.positions, i, s);
      may_meet = may_meet || perhaps_only(net, state, i, s);
    }
    (meets ? outputs.joined : may_meet ? outputs.undecided : outputs.separated).push_back(inverter);
  }
  return outputs;
}

bool share_a_bus(const AnalysedSite& site, std::size_t inverter_a, std::size_t inverter_b) {
  const std::size_t a = network::source_of(site.network, inverter_a);
  const std::size_t b = network::source_of(site.network, inverter_b);
  if (a == site::none || b == site::none) return false;
  const auto own = network::contacts_in_step(site.network, a, b);
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return state.state->kind != site::StateKind::bypass &&
           network::lines_joined(site.network,
                                 network::with_open(site.network, state.positions, own), a, b);
  });
}

Plug plug_of(const AnalysedSite& site, std::size_t generator) {
  Plug plug;
  const std::size_t source = network::source_of(site.network, generator);
  if (source == site::none) return plug;
  const std::vector<bool> reached = reached_unplugged(site, source);
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (!reaches(site, reached, e)) continue;
    if (site::facts<site::Connector>(site.element(e)) != nullptr) plug.connectors.push_back(e);
    if (site::facts<site::LoadGroup>(site.element(e)) != nullptr) plug.loads.push_back(e);
  }
  const bool meets_other = std::ranges::any_of(site.network.sources, [&](const auto& other) {
    return other.element != generator && reaches(site, reached, other.element);
  });
  plug.apart = plug.loads.empty() && !meets_other;
  return plug;
}

bool pins_alive_from(const AnalysedSite& site, std::size_t generator, std::size_t other) {
  if (site::facts<site::Generator>(site.element(generator)) == nullptr) return false;
  const std::size_t source = network::source_of(site.network, other);
  const Plug plug = plug_of(site, generator);
  if (source == site::none || !plug.apart) return false;
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    if (runs(state, generator) || !runs(state, other)) return false;
    return std::ranges::any_of(plug.connectors, [&](std::size_t connector) {
      return network::any_joined(state, line_nodes(site.network, connector, 0),
                                 line_nodes(site.network, source));
    });
  });
}

std::vector<std::size_t> undecided_elements(const AnalysedSite& site,
                                            const network::StateView& state) {
  std::vector<std::size_t> elements;
  for (const network::Edge& edge : site.network.edges) {
    if (edge.kind == network::EdgeKind::bond || edge.kind == network::EdgeKind::earth) continue;
    if (edge.element == site::none || state.joined(edge.a, edge.b) ||
        network::closed(edge, state.positions) != network::Closed::undecided)
      continue;
    if (std::ranges::count(elements, edge.element) == 0) elements.push_back(edge.element);
  }
  return elements;
}

}  // namespace linewright::check
