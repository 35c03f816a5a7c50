// Speaks when the neutral of a circuit has two ways to its source in parallel while its lines use
// one, or one while its lines use two. Where both run twice (inverters in parallel), each way
// carries its own return and all is well. Current that leaves the neutral for the protective
// conductors, because neutral and earth are joined twice in one state, is left to the earthing
// rules that count bonds.

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Passage;
using network::StateView;

/// Runs that only the neutral uses in parallel, or only the lines, and what stands where the ways
/// meet.
struct Ring {
  bool of_lines = false;
  std::vector<std::size_t> runs;
  std::vector<std::size_t> rcds;  ///< devices with only one of the ways through them
  std::size_t meets_at = site::none;
  friend auto operator<=>(const Ring&, const Ring&) = default;
};

/// Where the ways to a load meet: the bar next to it that all ways reach, else the end of a
/// parallel run that reaches the load without any of them.
std::size_t meeting_point(const AnalysedSite& site, const StateView& state, std::size_t load,
                          const std::vector<std::size_t>& parallel) {
  network::Network reduced = site.network;
  std::erase_if(reduced.edges, [&](const network::Edge& edge) {
    return edge.run != site::none && std::ranges::count(parallel, edge.run) > 0;
  });
  const auto component = network::components(reduced, state.positions, false);
  const std::uint32_t at = site.network.neutral(load, 0);
  const auto reached = [&](std::size_t element, std::size_t terminal) {
    const std::uint32_t node = site.network.neutral(element, terminal);
    return node != network::no_node && component[node] == component[at];
  };
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (site::facts<site::Busbar>(site.element(e)) != nullptr && reached(e, 0)) return e;
  for (const std::size_t r : parallel) {
    const site::Run& run = site.site.runs[r];
    for (const site::Terminal& end : {run.to, run.from})
      if (reached(end.element, end.terminal)) return end.element;
  }
  return load;
}

std::vector<std::size_t> not_among(const std::vector<std::size_t>& some,
                                   const std::vector<std::size_t>& others) {
  std::vector<std::size_t> left;
  for (const std::size_t run : some)
    if (std::ranges::count(others, run) == 0) left.push_back(run);
  return left;
}

/// Cables of a parallel way of the lines that the neutral does not take.
Ring ring_of_lines(const AnalysedSite& site, const StateView& state, std::size_t load,
                   const Passage& lines, const Passage& neutral) {
  Ring ring;
  if (!neutral.joined) return ring;
  ring.of_lines = true;
  for (const std::size_t run : not_among(lines.detour_runs, neutral.detour_runs))
    if (site.site.runs[run].cable && std::ranges::count(neutral.runs, run) == 0)
      ring.runs.push_back(run);
  std::ranges::sort(ring.runs);
  if (!ring.runs.empty()) ring.meets_at = meeting_point(site, state, load, lines.detour_runs);
  return ring;
}

Ring ring_of(const AnalysedSite& site, const StateView& state, const network::WaysFrom& ways,
             std::size_t load) {
  const Passage neutral = ways.neutral_to(load, 0);
  const Passage lines = ways.lines_to(load, 0);
  Ring ring;
  ring.runs = not_among(neutral.detour_runs, lines.detour_runs);
  if (ring.runs.empty()) return ring_of_lines(site, state, load, lines, neutral);
  std::ranges::sort(ring.runs);
  for (const std::size_t device : neutral.detour_devices)
    if (check::residual(site, device) != nullptr &&
        std::ranges::count(lines.detour_devices, device) == 0)
      ring.rcds.push_back(device);
  ring.meets_at = meeting_point(site, state, load, neutral.detour_runs);
  return ring;
}

std::string run_name(const site::Run& run) {
  return run.designation.empty() ? "a joint inside the enclosure"
                                 : fmt::format("'{}'", run.designation);
}

/// The name of the place in the user's words: a bar inside a board goes by the board's.
std::string place_name(const AnalysedSite& site, std::size_t element) {
  const std::size_t assembly = site.element(element).assembly;
  const bool bar = site::facts<site::Busbar>(site.element(element)) != nullptr;
  return bar && assembly != site::none ? site.site.assemblies[assembly].designation
                                       : site.name(element);
}

Verdict judge_lines(const AnalysedSite& site, const StateView& state, const Ring& ring) {
  const std::string place = place_name(site, ring.meets_at);
  Verdict verdict =
      broken({site.element(ring.meets_at).where, place, state.name()},
             fmt::format("lines reach '{}' on two ways, N on one only, must on both", place),
             "lead N with the lines in every parallel cable");
  for (const std::size_t r : ring.runs)
    verdict.notes.push_back(
        {site.site.runs[r].where,
         fmt::format("{} carries lines whose N is not on that way", run_name(site.site.runs[r]))});
  return verdict;
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Ring& ring,
              const std::vector<std::size_t>& loads) {
  if (ring.of_lines) return judge_lines(site, state, ring);
  const std::string place = place_name(site, ring.meets_at);
  Verdict verdict =
      broken({site.element(ring.meets_at).where, place, state.name()},
             fmt::format("N reaches '{}' on two ways in parallel, must on one", place),
             "switch the neutral together with its lines, or leave out one of the two neutrals");
  for (const std::size_t r : ring.runs) {
    const site::Run& run = site.site.runs[r];
    if (run.cable)
      verdict.notes.push_back({run.where, fmt::format("N in {} is one of them", run_name(run))});
  }
  for (const std::size_t rcd : ring.rcds)
    verdict.notes.push_back(
        {site.element(rcd).where, fmt::format("current returns around '{}'", site.name(rcd))});
  verdict.notes.push_back({site.element(loads.front()).where,
                           fmt::format("returned by {}", check::circuits_in_words(site, loads))});
  return verdict;
}

void judge_source(const AnalysedSite& site, const StateView& state, std::size_t source,
                  std::vector<Verdict>& verdicts) {
  const network::SourcePoint* point = network::source_point(site.network, source);
  const network::WaysFrom ways(site.network, site.site, state.positions, *point);
  std::map<Ring, std::vector<std::size_t>> rings;
  for (const network::Loop& loop : state.loops) {
    if (loop.source != source) continue;
    const Ring ring = ring_of(site, state, ways, loop.load);
    if (!ring.runs.empty())
      rings[ring].push_back(loop.load);
    else
      verdicts.push_back(holds(site.about(loop.load, &state)));
  }
  for (const auto& [ring, loads] : rings)
    verdicts.push_back(judge(site, state, ring, loads));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const network::Zone& zone : state.zones)
      for (const std::size_t source : zone.sources)
        judge_source(site, state, source, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule parallel_neutral_path{
    .id = "rcd/parallel-neutral-path",
    .severity = Severity::breach,
    .must_hold = "The neutral returns on the way of its lines, never on a second one in parallel.",
    .why =
        "The neutral's current divides: the conductors of each way no longer cancel, steel "
        "around them heats, and an RCD in either way sees current missing.",
    .clauses = {"IEC 60364-5-55 551.6.2", "BS 7671 551.6.2"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(site: {name: Bypass that closes a neutral ring}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-Q3, -W5 3×10 mm² 2 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
devices:
  -Q3: changeover I-0-II 63 A 1P
chains:
  - [A1, -Q2 switch-disconnector 63 A 2P, -W3 3×10 mm² 2 m, -Q3:I]
  - [A1, -W4 3×10 mm² 2 m, -Q3:II]
states:
  grid: {-Q3: I}
)",
    .check = check,
};

}  // namespace linewright::rules
