#include "check/source_ways.hpp"

#include <algorithm>
#include <array>

#include "check/rcd_cover.hpp"

namespace linewright::check {
namespace {

void add_ways(const AnalysedSite& site, const network::StateView& state, const network::Zone& zone,
              std::vector<SourceWay>& into) {
  if (zone.sources.size() + zone.following.size() < 2) return;
  for (const std::size_t from : zone.sources) {
    const network::SourcePoint* point = network::source_point(site.network, from);
    const network::WaysFrom ways(site.network, site.site, state.positions, *point);
    for (const bool follows : {false, true})
      for (const std::size_t to : follows ? zone.following : zone.sources) {
        if (to == from) continue;
        const network::SourcePoint* end = network::source_point(site.network, to);
        network::Passage lines = ways.lines_to(to, end->terminal);
        if (lines.joined) into.push_back({&state, from, to, follows, std::move(lines)});
      }
  }
}

/// Whether a line of one terminal and a line of another are one conductor.
bool lines_meet(const network::Network& network, const std::vector<std::uint32_t>& component,
                const site::Terminal& a, const site::Terminal& b) {
  constexpr std::array<site::Conductor, 3> lines{site::Conductor::l1, site::Conductor::l2,
                                                 site::Conductor::l3};
  for (const site::Conductor c : lines)
    for (const site::Conductor d : lines) {
      const std::uint32_t here = network.node(a.element, a.terminal, c);
      const std::uint32_t there = network.node(b.element, b.terminal, d);
      if (here == network::no_node || there == network::no_node) continue;
      if (component[here] == component[there]) return true;
    }
  return false;
}

/// A circuit that the source feeds alone in some state is judged from that source there.
bool fed_alone_by(const AnalysedSite& site, std::size_t load, std::size_t source) {
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return std::ranges::any_of(state.loops, [&](const network::Loop& loop) {
      return loop.load == load && loop.source == source;
    });
  });
}

}  // namespace

std::vector<SourceWay> ways_between_sources(const AnalysedSite& site) {
  std::vector<SourceWay> ways;
  for (const network::StateView& state : site.states)
    for (const network::Zone& zone : state.zones)
      add_ways(site, state, zone, ways);
  return ways;
}

std::vector<std::size_t> sources_below(const AnalysedSite& site, const network::StateView& state,
                                       std::size_t device) {
  network::Positions opened = state.positions;
  const int own = site.network.find_switch(device);
  if (own >= 0) opened.of[static_cast<std::size_t>(own)] = 0;
  const auto component = network::components(site.network, opened, false);
  std::vector<std::size_t> sources;
  for (const network::Zone& zone : state.zones)
    for (const auto* list : {&zone.sources, &zone.following})
      for (const std::size_t source : *list) {
        const network::SourcePoint& point = *network::source_point(site.network, source);
        if (lines_meet(site.network, component, {device, 1}, {source, point.terminal}))
          sources.push_back(source);
      }
  return sources;
}

std::vector<SourceBehindRcd> sources_behind_rcds(const AnalysedSite& site) {
  std::vector<SourceBehindRcd> found;
  for (const SourceWay& way : ways_between_sources(site)) {
    if (!way.follows) continue;
    for (const auto* devices : {&way.lines.devices, &way.lines.detour_devices})
      for (const std::size_t device : *devices)
        if (residual(site, device) != nullptr)
          found.push_back({way.state, way.from, way.to, device});
  }
  return found;
}

bool last_rcd_of(const network::Loop& loop, std::size_t rcd) {
  return !loop.rcds.empty() && loop.rcds.back().element == rcd;
}

std::vector<std::size_t> circuits_sharing(const AnalysedSite& site, const SourceBehindRcd& behind) {
  std::vector<std::size_t> loads;
  for (const network::Loop& loop : behind.state->loops)
    if (loop.source == behind.from && last_rcd_of(loop, behind.rcd) &&
        !fed_alone_by(site, loop.load, behind.source))
      loads.push_back(loop.load);
  return loads;
}

}  // namespace linewright::check
