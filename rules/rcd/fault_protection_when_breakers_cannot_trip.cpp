// Speaks of circuits that are fed by sources on site alone, come home over metal (TN), and have no
// RCD. Decided from what the file states: the current that the sources drive into a fault, the
// breaker's curve, the resistance of the cables, and the time after which the sources stop. What a
// generator gives is bounded by its reactance where nothing is stated. Reactances of cables and the
// thermal trip of a breaker are not looked at, nor faults between line and neutral. Left to others:
// circuits that need additional protection (additional-protection-circuits), TT
// (tt-whole-installation), a fault current that does not come home or comes back through the RCD
// (the earthing rules about bonds), the supply's fault currents.

#include <algorithm>
#include <map>
#include <string>

#include <fmt/core.h>

#include "check/breaker_trips.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::EarthFault;
using check::Ending;
using network::Loop;
using network::StateView;

enum class Guard { rcd, none, others };

Guard guard_of(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  if (check::supply_feeds(site, state, loop)) return Guard::others;
  if (loop.return_path != network::ReturnPath::metallic) return Guard::others;
  const auto sees = [](const network::RcdOnLoop& rcd) { return rcd.sees; };
  if (std::ranges::any_of(loop.rcds, sees)) return Guard::rcd;
  const bool needs = check::additional_protection(site, loop).answer == check::Need::Answer::yes;
  return loop.rcds.empty() && !needs ? Guard::none : Guard::others;
}

/// Circuits of one source without an end to their fault, over all states.
struct Left {
  std::vector<const StateView*> states;
  std::map<std::size_t, std::pair<const Loop*, EarthFault>> by_load;
};

Verdict broken_at(const AnalysedSite& site, std::size_t source, const Left& left,
                  const StateView& state) {
  const auto& [load, first] = *left.by_load.begin();
  const auto& [loop, fault] = first;
  const std::string remedy =
      "fit an RCD in these circuits or ahead of them, on the load side of the transfer";
  if (left.by_load.size() == 1) {
    const bool known = fault.device != site::none;
    return broken(site.about(check::circuit_device(*loop), &state),
                  known ? fmt::format("'{}' needs {} to open, {} gives at most {}",
                                      site.name(fault.device), print_rounded(fault.needed, 3),
                                      check::quoted(site, source), print_rounded(fault.given, 3))
                        : fmt::format("nothing in '{}' opens at the {} that {} gives",
                                      check::circuit_name(site, load),
                                      print_rounded(fault.given, 3), check::quoted(site, source)),
                  remedy);
  }
  Verdict verdict = broken(site.about(source, &state),
                           fmt::format("{} gives too little to trip {} circuits without RCD",
                                       check::quoted(site, source), left.by_load.size()),
                           remedy);
  for (const auto& [element, found] : left.by_load)
    verdict.notes.push_back(
        {site.element(element).where,
         fmt::format("'{}' needs {}, has at most {}", check::circuit_name(site, element),
                     found.second.device == site::none ? "a breaker or an RCD"
                                                       : print_rounded(found.second.needed, 3),
                     print_rounded(found.second.given, 3))});
  return verdict;
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Loop& loop,
              const EarthFault& fault) {
  const Subject subject = site.about(check::circuit_device(loop), &state);
  const std::string name = check::circuit_name(site, loop.load);
  if (fault.ending == Ending::undecided)
    return open(subject,
                fmt::format("whether an earth fault of '{}' is switched off in time", name),
                fault.missing);
  if (fault.ending == Ending::trips || !fault.within) return holds(subject);
  return asks(site.about(loop.source, &state),
              fmt::format("whether {} stops on an earth fault, which no RCD would see",
                          check::quoted(site, loop.source)),
              fmt::format("it stops within {}", *fault.within));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::map<std::size_t, Left> left;
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      const Guard guard = guard_of(site, state, loop);
      const Subject subject = site.about(check::circuit_device(loop), &state);
      if (guard != Guard::none) {
        verdicts.push_back(guard == Guard::rcd ? holds(subject) : not_relevant(subject));
        continue;
      }
      const EarthFault fault = check::earth_fault(site, state, loop);
      if (fault.ending != Ending::never) {
        verdicts.push_back(judge(site, state, loop, fault));
        continue;
      }
      Left& source = left[loop.source];
      if (std::ranges::count(source.states, &state) == 0) source.states.push_back(&state);
      source.by_load.try_emplace(loop.load, &loop, fault);
    }
  for (const auto& [source, circuits] : left)
    for (const StateView* state : circuits.states)
      verdicts.push_back(broken_at(site, source, circuits, *state));
  return verdicts;
}

}  // namespace

extern const check::Rule fault_protection_when_breakers_cannot_trip{
    .id = "rcd/fault-protection-when-breakers-cannot-trip",
    .severity = Severity::danger,
    .must_hold =
        "A circuit that an inverter or generator feeds alone has an RCD for its earth faults, "
        "unless what the source gives opens its breaker in time or the source itself stops.",
    .why =
        "An inverter gives little more than its rated current; a B16 needs 80 A, a C16 160 A: on "
        "an earth fault in island the metalwork stays live.",
    .clauses = {"IEC 60364-4-41 411.3.2", "IEC 60364-4-41 411.4.4", "IEC 60364-8-82",
                "BS 7671 826.1.2.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"disconnection final TN", "disconnection final TN to 120 V",
                     "disconnection final TN above 230 V", "disconnection distribution TN"},
    .example = R"(site: {name: Cooker on a plain breaker in island}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Cooker, device: B32 1P+N 6 kA, cable: 3×6 mm² 12 m, use: cooking}
inverters:
  -T1: {kind: battery, backup side: yes, power: 5 kVA, fault current: 43 A, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C32 2P 6 kA two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
