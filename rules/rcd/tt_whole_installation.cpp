// Speaks about circuits fed through earth (TT) that have no RCD from any source in any state, those
// of one board together, and about cables ahead of the first RCD that are not double insulated. A
// circuit that needs additional protection and has none is left to additional-protection-circuits;
// one that has an RCD elsewhere to between-source-and-load-in-every-state and
// bypass-path-keeps-rcd; a blinded RCD to the earthing rules about bonds. A TT supply without a
// closed way home is left to tt-resistance-product, which asks for the electrode.

#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;
using network::StateView;

bool through_earth(const Loop& loop) {
  return loop.return_path == network::ReturnPath::through_earth;
}

/// Loads that some RCD guards from some source in some state.
std::set<std::size_t> guarded_somewhere(const AnalysedSite& site) {
  std::set<std::size_t> loads;
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops)
      if (!loop.rcds.empty()) loads.insert(loop.load);
  return loads;
}

/// How a circuit stands that is fed through earth.
enum class Guard { sees, none, told_elsewhere };

Guard guard_of(const AnalysedSite& site, const Loop& loop, bool guarded_elsewhere) {
  const auto sees = [](const network::RcdOnLoop& rcd) { return rcd.sees; };
  if (std::ranges::any_of(loop.rcds, sees)) return Guard::sees;
  const bool others = guarded_elsewhere ||
                      check::additional_protection(site, loop).answer == check::Need::Answer::yes;
  return loop.rcds.empty() && !others ? Guard::none : Guard::told_elsewhere;
}

/// The circuits of one board that have no RCD, and the states in which they are alive.
struct Unguarded {
  std::vector<check::HurtCircuit> circuits;
  std::vector<const StateView*> states;

  void add(const StateView& state, const Loop& loop) {
    if (std::ranges::count(circuits, loop.load, &check::HurtCircuit::load) == 0)
      circuits.push_back({loop.load, check::circuit_device(loop)});
    if (std::ranges::count(states, &state) == 0) states.push_back(&state);
  }
};

/// One verdict a state, alike in all of them.
void tell(const AnalysedSite& site, const Unguarded& board, std::vector<Verdict>& verdicts) {
  std::vector<std::size_t> loads;
  for (const check::HurtCircuit& each : board.circuits)
    loads.push_back(each.load);
  const bool alone = loads.size() == 1;
  for (const StateView* state : board.states) {
    Verdict verdict =
        broken(check::about_circuits(site, board.circuits, state),
               fmt::format("{} {} no RCD in TT, must have one", check::circuits_named(site, loads),
                           alone ? "has" : "have"),
               fmt::format("fit an RCD ahead of the whole installation, or one in {}",
                           alone ? "this circuit" : "each of these circuits"));
    if (!alone) verdict.notes = check::circuits_by_board(site, loads, "no RCD guards");
    verdicts.push_back(std::move(verdict));
  }
}

void judge_circuits(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  const auto guarded = guarded_somewhere(site);
  std::map<std::size_t, Unguarded> by_board;
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      if (!through_earth(loop)) continue;
      const Subject subject = site.about(check::circuit_device(loop), &state);
      switch (guard_of(site, loop, guarded.count(loop.load) > 0)) {
        case Guard::sees:
          verdicts.push_back(holds(subject));
          break;
        case Guard::none:
          by_board[site.element(loop.load).assembly].add(state, loop);
          break;
        case Guard::told_elsewhere:
          verdicts.push_back(not_relevant(subject));
      }
    }
  for (const auto& [board, unguarded] : by_board)
    tell(site, unguarded, verdicts);
}

/// Runs, each with the first RCD that stands behind it.
using RunsAhead = std::map<std::size_t, std::size_t>;

/// Adds the runs between a source and an RCD, on whichever side of it they end.
void add_runs(const network::WaysFrom& ways, std::size_t rcd, RunsAhead& into) {
  const network::Passage upper = ways.lines_to(rcd, 0);
  const network::Passage lower = ways.lines_to(rcd, 1);
  const auto& shorter = upper.runs.size() < lower.runs.size() ? upper : lower;
  for (const auto* runs : {&shorter.runs, &shorter.detour_runs})
    for (const std::size_t run : *runs)
      into.emplace(run, rcd);
}

/// Whether the circuit has an electrode of its own, apart from that of the board's metalwork.
bool on_own_electrode(const AnalysedSite& site, const Loop& loop) {
  const auto* load = site::facts<site::LoadGroup>(site.element(loop.load));
  return load != nullptr && load->own_electrode == true;
}

/// Runs that are alive ahead of the first RCD of a TT loop of that source.
RunsAhead runs_ahead(const AnalysedSite& site, const StateView& state, std::size_t source) {
  const network::WaysFrom ways(site.network, site.site, state.positions,
                               *network::source_point(site.network, source));
  RunsAhead ahead;
  for (const Loop& loop : state.loops)
    if (loop.source == source && through_earth(loop) && !loop.rcds.empty() &&
        !on_own_electrode(site, loop))
      add_runs(ways, loop.rcds.front().element, ahead);
  return ahead;
}

Verdict judge_cable(const AnalysedSite& site, const site::Cable& cable, const Subject& subject,
                    std::size_t rcd) {
  const std::string& name = subject.element;
  if (cable.double_insulated == true) return holds(subject);
  if (!cable.double_insulated)
    return open(subject,
                fmt::format("whether '{}' ahead of '{}' is double insulated", name, site.name(rcd)),
                fmt::format("insulation of '{}' (cable: … double insulated)", name));
  Verdict verdict =
      broken(subject, fmt::format("'{}' has no RCD in TT, must be double insulated", name),
             "keep this cable sheathed up to the terminals, or bring the RCD ahead");
  verdict.notes.push_back(
      {site.element(rcd).where, fmt::format("'{}' is the first RCD after it", site.name(rcd))});
  return verdict;
}

void judge_cables(const AnalysedSite& site, const StateView& state, std::size_t source,
                  std::vector<Verdict>& verdicts) {
  for (const auto& [index, rcd] : runs_ahead(site, state, source)) {
    const site::Run& run = site.site.runs[index];
    if (run.cable)
      verdicts.push_back(
          judge_cable(site, *run.cable, {run.where, run.designation, state.name()}, rcd));
  }
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  judge_circuits(site, verdicts);
  for (const StateView& state : site.states)
    for (const network::Zone& zone : state.zones)
      for (const std::size_t source : zone.sources)
        judge_cables(site, state, source, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule tt_whole_installation{
    .id = "rcd/tt-whole-installation",
    .severity = Severity::danger,
    .must_hold =
        "In TT every circuit is behind an RCD, and the wiring ahead of the first RCD is of "
        "double or reinforced insulation.",
    .why =
        "The earth loop through the ground is tens of ohms: no breaker trips on an earth fault, "
        "and metalwork stays live.",
    .clauses = {"IEC 60364-4-41 411.5.2", "IEC 60364-5-53 531.3"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Pump on a plain breaker in TT}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² 3 m double insulated, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Pump, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: motor}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
