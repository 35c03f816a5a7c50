// A reference layout, analysed, of which a test can turn over single joints in single states.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>

#include <catch2/catch.hpp>

#include "check/run.hpp"
#include "network/neutral_paths.hpp"
#include "rules/profile_data.hpp"
#include "rules/registry.hpp"
#include "support/judge.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {

/// One layout, analysed; a state may be looked at with some joint turned over.
class Layout {
 public:
  explicit Layout(std::string_view yaml, std::string_view named = {})
      : site_(site_from(yaml)),
        profile_(*rules::profile(named.empty() ? std::string_view(site_.profile) : named)),
        now_(check::analyse(site_, profile_)) {}

  const check::AnalysedSite& now() const { return now_; }

  std::size_t state(std::string_view name) const {
    for (std::size_t s = 0; s < now_.states.size(); ++s)
      if (now_.states[s].name() == name) return s;
    FAIL("no state " << name);
    return 0;
  }

  std::size_t element(std::string_view name) const {
    const std::size_t e = site_.find(name);
    if (e == site::none) FAIL("no element " << name);
    return e;
  }

  /// Element of a kind of which the layout has one.
  template <class T>
  std::size_t only() const {
    for (std::size_t e = 0; e < site_.elements.size(); ++e)
      if (site::facts<T>(site_.elements[e]) != nullptr) return e;
    FAIL("no such element");
    return 0;
  }

  std::uint32_t node(std::size_t e, std::string_view terminal, site::Conductor c) const {
    const std::size_t t = site_.find_terminal(e, terminal);
    if (t == site::none) FAIL("no terminal " << terminal);
    return c == site::Conductor::n ? now_.network.neutral(e, t) : now_.network.node(e, t, c);
  }
  /// A conductor of the bar that the backed-up board hangs on.
  std::uint32_t bus(site::Conductor c) const { return node(element("-F31"), "1", c); }

  bool bus_has(std::size_t s, std::size_t e, std::string_view terminal, site::Conductor c) const {
    return now_.states[s].joined(bus(c), node(e, terminal, c));
  }

  /// Whether an element's link is closed and its neutral is the bus's.
  bool link_on_bus(std::size_t s, std::size_t e) const {
    const network::Edge* edge = network::bond_edge(now_.network, e);
    return edge != nullptr &&
           network::closed(*edge, now_.states[s].positions) == network::Closed::yes &&
           now_.states[s].joined(edge->a, bus(site::Conductor::n));
  }

  /// Whether such an RCD sees the faults of every load alive in that state.
  template <class Which>
  bool guarded(std::size_t s, Which which) const {
    const auto& loops = now_.states[s].loops;
    return !loops.empty() && std::ranges::all_of(loops, [&](const network::Loop& loop) {
      return std::ranges::any_of(loop.rcds, [&](const network::RcdOnLoop& rcd) {
        return rcd.sees && which(now_.name(rcd.element));
      });
    });
  }

  std::size_t bonds(std::size_t s) const {
    REQUIRE(now_.states[s].zones.size() == 1);
    CHECK(now_.states[s].zones.front().undecided_bonds.empty());
    return now_.states[s].zones.front().bonds.size();
  }

  /// Turns over, in one state, the joints that `these` picks; rules that then speak.
  template <class These>
  std::string turned_over(std::size_t s, These these, int wanted = 1) const {
    network::Network changed = now_.network;
    int turned = 0;
    for (network::Edge& edge : changed.edges) {
      if (!these(edge)) continue;
      const bool closed = network::closed(edge, now_.states[s].positions) == network::Closed::yes;
      edge.by = network::fixed;
      edge.closed_in = closed ? 0 : 1;
      edge.undecided_in = 0;
      ++turned;
    }
    CHECK(turned == wanted);
    return speaking(s, changed);
  }

  /// Whether a joint leads the neutral through a device or inverter to one of its terminals.
  bool is_neutral_at(const network::Edge& edge, std::string_view name,
                     std::string_view terminal) const {
    const std::size_t e = element(name);
    const std::size_t t = site_.find_terminal(e, terminal);
    return edge.element == e && edge.conductor == site::Conductor::n &&
           (edge.kind == network::EdgeKind::pole || edge.kind == network::EdgeKind::passage) &&
           (now_.network.nodes[edge.a].terminal == t || now_.network.nodes[edge.b].terminal == t);
  }

  std::string neutral_turned_over(std::string_view state_name, std::string_view name,
                                  std::string_view terminal) const {
    return turned_over(state(state_name), [&](const network::Edge& edge) {
      return is_neutral_at(edge, name, terminal);
    });
  }

  std::string link_turned_over(std::string_view state_name, std::size_t e) const {
    return turned_over(state(state_name), [&](const network::Edge& edge) {
      return edge.kind == network::EdgeKind::bond && edge.element == e;
    });
  }

  /// With a link put on the bus in one state.
  std::string link_added(std::string_view state_name, std::size_t e) const {
    network::Network changed = now_.network;
    changed.edges.insert(changed.edges.begin() + changed.first_edge[e + 1],
                         {.a = bus(site::Conductor::n),
                          .b = bus(site::Conductor::pe),
                          .kind = network::EdgeKind::bond,
                          .element = e,
                          .conductor = site::Conductor::n});
    for (std::size_t other = e + 1; other < changed.first_edge.size(); ++other)
      ++changed.first_edge[other];
    return speaking(state(state_name), changed);
  }

  /// Rules of earthing and RCDs that find something worse than advice as written.
  std::string speaking() const { return speaking(now_); }

 private:
  std::string speaking(std::size_t s, const network::Network& changed) const {
    check::AnalysedSite other{
        .site = site_, .profile = profile_, .network = changed, .states = now_.states};
    other.states[s] = network::view(other.network, site_, site_.states[s]);
    return speaking(other);
  }

  static std::string speaking(const check::AnalysedSite& site) {
    Report report = check::run(site, rules::all_rules());
    std::erase_if(report.findings,
                  [](const Finding& finding) { return finding.rule.starts_with("transfer/"); });
    return rules_broken(report);
  }

  site::Site site_;
  check::Profile profile_;
  check::AnalysedSite now_;
};

}  // namespace linewright::tests
