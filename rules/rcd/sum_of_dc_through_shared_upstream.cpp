// Speaks of type A and F RCDs through which several circuits may each pass some smooth direct
// current: a charge point with 6 mA detection, or equipment whose maker states how much. Left to
// others: a single circuit that passes more than 6 mA and a type AC (upstream-not-blinded), a
// missing type (type-at-least-a), an RCD that an EV point has for its last and shares
// (type-for-ev). What the maker does not state is not counted: a circuit that says nothing is taken
// to pass none, as the other rules on types take it.

#include <algorithm>
#include <map>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/residual_types.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::ResidualType;

constexpr Current one_point{0.006};  // what 6 mA detection lets pass (IEC 62955)
constexpr double hair = 1e-9;        // a sum need not be the limit to the last bit

/// Smooth direct current that a circuit may pass for good.
Current permitted(const AnalysedSite& site, const network::Loop& loop) {
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  if (load.dc_leakage) return *load.dc_leakage;
  const site::Residual& last = *check::residual(site, loop.rcds.back().element);
  if (last.dc_detection_6ma == true) return one_point;
  if (load.dc_detection_6ma != true) return Current{};
  const int points = load.charging && load.charging->points ? *load.charging->points : 1;
  return static_cast<double>(points) * one_point;
}

bool own_point(const AnalysedSite& site, const network::Loop& loop, std::size_t rcd) {
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  return load.use == site::Use::ev && loop.rcds.back().element == rcd;
}

/// What passes one RCD in the state in which most does.
struct Sum {
  std::vector<const network::StateView*> states;
  std::map<std::size_t, Current> by_load;
};

std::map<std::size_t, Sum> sums(const AnalysedSite& site) {
  std::map<std::size_t, Sum> all;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops) {
      if (loop.rcds.empty()) continue;
      const Current passes = permitted(site, loop);
      if (!(passes > Current{})) continue;
      for (const network::RcdOnLoop& rcd : loop.rcds) {
        if (own_point(site, loop, rcd.element)) continue;
        Sum& sum = all[rcd.element];
        if (std::ranges::count(sum.states, &state) == 0) sum.states.push_back(&state);
        sum.by_load[loop.load] = passes;
      }
    }
  return all;
}

std::optional<Current> limit_of(const AnalysedSite& site, ResidualType type) {
  if (type == ResidualType::a) return site.profile.current("rcd direct current type A");
  if (type == ResidualType::f) return site.profile.current("rcd direct current type F");
  return std::nullopt;
}

Verdict judge(const AnalysedSite& site, std::size_t rcd, const Sum& sum,
              const network::StateView& state) {
  const Subject subject = site.about(rcd, &state);
  const auto type = check::residual(site, rcd)->type;
  if (type == ResidualType::b) return holds(subject);
  const auto limit = type ? limit_of(site, *type) : std::nullopt;
  if (!limit) return not_relevant(subject);
  Current total{};
  std::vector<std::size_t> loads;
  for (const auto& [load, passes] : sum.by_load) {
    total += passes;
    loads.push_back(load);
  }
  if (!(total > *limit * (1.0 + hair))) return holds(subject);
  if (loads.size() == 1 && std::get<site::LoadGroup>(site.element(loads.front()).facts).dc_leakage)
    return not_relevant(subject);
  Verdict verdict =
      broken(subject,
             fmt::format("{} may send {} DC through '{}', must be {}",
                         check::circuits_in_words(site, loads), total, site.name(rcd), *limit),
             "fit type B there, or feed all but one of these circuits from ahead of it");
  for (const auto& [load, passes] : sum.by_load)
    verdict.notes.push_back(
        {site.element(load).where,
         fmt::format("'{}' may pass {}", check::circuit_name(site, load), passes)});
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const auto& [rcd, sum] : sums(site))
    for (const network::StateView* state : sum.states)
      verdicts.push_back(judge(site, rcd, sum, *state));
  return verdicts;
}

}  // namespace

extern const check::Rule sum_of_dc_through_shared_upstream{
    .id = "rcd/sum-of-dc-through-shared-upstream",
    .severity = Severity::danger,
    .must_hold =
        "The smooth direct currents that several points may pass do not add up to more than an RCD "
        "ahead of them stands: 6 mA for type A, 10 mA for type F.",
    .why =
        "The limits add: two points of 6 mA each can pass 12 mA through the RCD above and blind it "
        "for everything behind it.",
    .clauses = {"IEC 60364-7-722", "IEC 62423"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd direct current type A", "rcd direct current type F"},
    .example = R"(site: {name: Two charge points behind one type A}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×25 mm² 3 m, -F10 RCD 80 A 2P 300 mA type A S]
    circuits:
      - {id: -F1, name: Car left, device: C32 2P 30 mA type A 6 kA, cable: 3×6 mm² 20 m, use: EV, dc detection: yes}
      - {id: -F2, name: Car right, device: C32 2P 30 mA type A 6 kA, cable: 3×6 mm² 20 m, use: EV, dc detection: yes}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
