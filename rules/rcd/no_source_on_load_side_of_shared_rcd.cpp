// Speaks when circuits rely on an RCD that also has a parallel source on its load side: it is the
// last RCD ahead of them, so that after it trips the source holds the faulty circuit live. An RCD
// ahead of circuits that each have one of their own (an incomer in TT) is not shared in this sense.
// Circuits that the source feeds alone in some state are left to
// between-source-and-load-in-every-state, the poles of an RCD that is not shared to
// opens-all-live-conductors.

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SourceBehindRcd;

bool opens_neutral(const AnalysedSite& site, std::size_t device) {
  const site::Element& element = site.element(device);
  const site::Conductors neutral{site::Conductor::n, site::Conductor::pen};
  const network::Broken broken = network::broken_by(element);
  return (element.conductors & neutral) == (broken.opened & neutral);
}

/// A neutral-earth link that stays joined to the load side once the device has opened.
bool has_link_below(const AnalysedSite& site, const SourceBehindRcd& behind) {
  network::Positions opened = behind.state->positions;
  const int own = site.network.find_switch(behind.rcd);
  if (own >= 0) opened.of[static_cast<std::size_t>(own)] = 0;
  const auto component = network::components(site.network, opened, true);
  const std::uint32_t neutral = site.network.neutral(behind.rcd, 1);
  return std::ranges::any_of(site.network.edges, [&](const network::Edge& edge) {
    return edge.kind == network::EdgeKind::bond && neutral != network::no_node &&
           network::closed(edge, behind.state->positions) != network::Closed::no &&
           component[edge.a] == component[neutral];
  });
}

/// The entry's milder case: nothing below keeps a way to earth, and the source cannot go on alone.
bool milder(const AnalysedSite& site, const SourceBehindRcd& behind) {
  return opens_neutral(site, behind.rcd) && !has_link_below(site, behind) &&
         !network::source_point(site.network, behind.source)->forming;
}

/// What one RCD shares with sources, over all states: one cause, told alike in each of them.
struct Shared {
  std::vector<const network::StateView*> states;
  std::vector<std::size_t> sources;
  std::vector<std::size_t> loads;
  bool all_milder = true;
};

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

Verdict judge(const AnalysedSite& site, const network::StateView& state, std::size_t rcd,
              const Shared& shared) {
  Verdict verdict = broken(site.about(rcd, &state),
                           fmt::format("'{}' guards {} and has {} behind it, must not",
                                       site.name(rcd), check::circuits_in_words(site, shared.loads),
                                       check::quoted(site, shared.sources)),
                           "connect the source ahead of this RCD, on a way of its own");
  if (shared.all_milder) verdict.severity = Severity::breach;
  verdict.notes = check::circuit_notes(site, shared.loads, "relies on this RCD alone");
  for (const std::size_t source : shared.sources)
    verdict.notes.push_back(
        {site.element(source).where, fmt::format("'{}' runs in parallel", site.name(source))});
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::map<std::size_t, Shared> by_rcd;
  for (const SourceBehindRcd& behind : check::sources_behind_rcds(site)) {
    const auto loads = check::circuits_sharing(site, behind);
    if (loads.empty()) {
      verdicts.push_back(holds(site.about(behind.rcd, behind.state)));
      continue;
    }
    Shared& shared = by_rcd[behind.rcd];
    add_once(shared.states, behind.state);
    add_once(shared.sources, behind.source);
    for (const std::size_t load : loads)
      add_once(shared.loads, load);
    shared.all_milder = shared.all_milder && milder(site, behind);
  }
  for (const auto& [rcd, shared] : by_rcd)
    for (const network::StateView* state : shared.states)
      verdicts.push_back(judge(site, *state, rcd, shared));
  return verdicts;
}

}  // namespace

extern const check::Rule no_source_on_load_side_of_shared_rcd{
    .id = "rcd/no-source-on-load-side-of-shared-rcd",
    .severity = Severity::danger,
    .must_hold =
        "A parallel source (PV, battery, small generator) is not connected on the load "
        "side of an RCD that final circuits rely on.",
    .why =
        "After the RCD has tripped the source can hold the faulty circuit live until its own "
        "detection of islanding acts, up to seconds.",
    .clauses = {"IEC 60364-5-55 551.7.1", "BS 7671 551.7.1", "BS 7671 712.411.3.2.1.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Battery inverter behind the sockets' RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 30 mA type A two-way]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {kind: battery, backup side: yes, power: 3 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C20 2P, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
