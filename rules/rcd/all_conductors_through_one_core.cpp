// Speaks of circuits whose lines run through different RCDs, and of RCDs that stand side by side in
// parallel ways of the same lines. A neutral that runs past the RCD of its lines is left to
// no-borrowed-neutral, a protective conductor through an RCD to the earthing rules about PEN and
// protective conductors, a ring of the neutral alone to parallel-neutral-path.

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;
using network::StateView;

/// RCDs between which the lines of circuits are split, sorted.
using Split = std::vector<std::size_t>;

bool is_rcd(const AnalysedSite& site, std::size_t device) {
  return check::residual(site, device) != nullptr;
}

Split rcds_among(const AnalysedSite& site, const std::vector<std::size_t>& devices) {
  std::set<std::size_t> found;
  for (const std::size_t device : devices)
    if (is_rcd(site, device)) found.insert(device);
  return {found.begin(), found.end()};
}

/// RCDs that some lines of the circuit pass and others do not.
Split between_lines(const AnalysedSite& site, const network::WaysFrom& ways, std::size_t load) {
  std::set<std::size_t> all;
  std::map<std::size_t, int> passed_by;
  int lines = 0;
  for (const site::Conductor line :
       {site::Conductor::l1, site::Conductor::l2, site::Conductor::l3}) {
    const network::Passage way = ways.line_to(load, 0, line);
    if (!way.joined) continue;
    ++lines;
    for (const std::size_t rcd : rcds_among(site, way.devices))
      ++passed_by[rcd];
  }
  for (const auto& [rcd, count] : passed_by)
    if (count < lines) all.insert(rcd);
  return {all.begin(), all.end()};
}

/// Whether the device can be left out by going through one of the others instead.
bool side_by_side(const AnalysedSite& site, const StateView& state, const Loop& loop,
                  const Split& detours) {
  network::Network reduced = site.network;
  std::erase_if(reduced.edges, [&](const network::Edge& edge) {
    return std::ranges::count(detours, edge.element) > 0 && site::lines.has(edge.conductor);
  });
  const network::SourcePoint* point = network::source_point(site.network, loop.source);
  const network::WaysFrom past(reduced, site.site, state.positions, *point);
  return !past.lines_to(loop.load, 0).joined;  // there is no way around all of them
}

Split split_of(const AnalysedSite& site, const StateView& state, const network::WaysFrom& ways,
               const Loop& loop) {
  Split between = between_lines(site, ways, loop.load);
  if (!between.empty()) return between;
  Split detours = rcds_among(site, loop.line_detours);
  if (detours.size() < 2 || !side_by_side(site, state, loop, detours)) return {};
  return detours;
}

/// Circuits and states of one split.
struct Hurt {
  std::vector<const StateView*> states;
  std::set<std::size_t> loads;
};

Verdict judge(const AnalysedSite& site, const Split& split, const Hurt& hurt,
              const StateView& state) {
  const std::vector<std::size_t> loads(hurt.loads.begin(), hurt.loads.end());
  Verdict verdict =
      broken(site.about(split.front(), &state),
             split.size() == 1
                 ? fmt::format("only some lines of {} pass '{}', must be all",
                               check::circuits_in_words(site, loads), site.name(split.front()))
                 : fmt::format("lines of {} are split over {}",
                               check::circuits_in_words(site, loads), check::quoted(site, split)),
             "lead all lines and the neutral of these circuits through one RCD");
  verdict.notes = check::circuit_notes(site, loads, "is fed through them");
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::map<Split, Hurt> splits;
  for (const StateView& state : site.states) {
    std::map<std::size_t, network::WaysFrom> ways;  // by source
    for (const Loop& loop : state.loops) {
      const network::SourcePoint* point = network::source_point(site.network, loop.source);
      const auto from =
          ways.try_emplace(loop.source, site.network, site.site, state.positions, *point).first;
      const Subject subject = site.about(check::circuit_device(loop), &state);
      const Split split = split_of(site, state, from->second, loop);
      if (split.empty()) {
        verdicts.push_back(loop.rcds.empty() ? not_relevant(subject) : holds(subject));
        continue;
      }
      Hurt& hurt = splits[split];
      if (std::ranges::count(hurt.states, &state) == 0) hurt.states.push_back(&state);
      hurt.loads.insert(loop.load);
    }
  }
  for (const auto& [split, hurt] : splits)
    for (const StateView* state : hurt.states)
      verdicts.push_back(judge(site, split, hurt, *state));
  return verdicts;
}

}  // namespace

extern const check::Rule all_conductors_through_one_core{
    .id = "rcd/all-conductors-through-one-core",
    .severity = Severity::danger,
    .must_hold =
        "All lines and the neutral of a circuit pass one and the same RCD; parallel cables are not "
        "split over two.",
    .why =
        "An RCD compares what goes out with what comes back. Where the set is split it trips "
        "without a fault, or is taken out by whoever is tired of that.",
    .clauses = {"IEC 60364-5-53 531.3"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(site: {name: Two RCDs side by side}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
busbars: {-WB1: 63 A, -WB2: 63 A}
boards:
  +A1:
    feed: [-WB2, -Q2 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Cooker, device: B32 1P+N 6 kA, cable: 3×6 mm² 12 m, use: cooking}
chains:
  - [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P, -WB1]
  - [-WB1, -F10 RCD 40 A 2P 30 mA type A, -WB2]
  - [-WB1, -F11 RCD 40 A 2P 30 mA type A, -WB2]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
