// Single-phase charging stays within the country's limit for unbalance.
//
// Speaks on connections of three phases, where the profile has a limit: of each single-phase charge
// point, and of all of them together phase against phase. Unbalance by sources and by the house is
// left to the rules on capacity.
#include <algorithm>
#include <array>
#include <vector>

#include <fmt/core.h>

#include "check/charge_points.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

constexpr std::array<site::Conductor, 3> phases{site::Conductor::l1, site::Conductor::l2,
                                                site::Conductor::l3};

bool is_single_phase(const AnalysedSite& site, std::size_t load) {
  return (site.element(load).conductors & site::lines).count() == 1;
}

Verdict judge_point(const AnalysedSite& site, std::size_t load, ApparentPower limit) {
  const Subject where = site.about(load);
  const std::string name = check::circuit_name(site, load);
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  const auto limits = check::charging(site, load).limits_unbalance;
  if (!is_single_phase(site, load)) return not_relevant(where);
  if (limits == true) return holds(where);
  if (!facts.power)
    return open(where, fmt::format("whether '{}' is within {} on one phase", name, limit),
                fmt::format("'load' of '{}'", name));
  const double apparent = facts.power->in(unit::watt) / facts.power_factor.value_or(1.0);
  if (apparent <= limit.in(unit::volt_ampere) * (1.0 + 1e-9)) return holds(where);
  if (!limits)
    return open(where,
                fmt::format("whether '{}' lowers its {} where one phase carries too much", name,
                            *facts.power),
                fmt::format("'limits unbalance' under 'charging' of '{}'", name));
  return broken(
      where,
      fmt::format("'{}' takes {} on one phase, must be {} or less", name, *facts.power, limit),
      "set it lower, let it change phase or limit the unbalance, or charge on three "
      "phases");
}

/// All charge points that limit nothing, phase against phase.
Verdict judge_together(const AnalysedSite& site, const std::vector<std::size_t>& points,
                       std::size_t supply, ApparentPower limit) {
  std::array<double, 3> volt_amperes{};
  std::vector<std::size_t> counted;
  for (const std::size_t load : points) {
    const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
    if (!is_single_phase(site, load) || !facts.power) continue;
    if (check::charging(site, load).limits_unbalance == true) continue;
    counted.push_back(load);
    for (std::size_t p = 0; p < phases.size(); ++p)
      if (site.element(load).conductors.has(phases[p]))
        volt_amperes[p] += facts.power->in(unit::watt) / facts.power_factor.value_or(1.0);
  }
  const auto [least, most] = std::ranges::minmax(volt_amperes);
  const Subject where = site.about(supply);
  if (counted.size() < 2 || most - least <= limit.in(unit::volt_ampere) * (1.0 + 1e-9))
    return holds(where);
  Verdict verdict = broken(
      where,
      fmt::format("charge points differ by {} between phases, must be {} or less",
                  print_rounded(ApparentPower{(most - least) * unit::volt_ampere}, 3), limit),
      "share them out over the phases, or let management keep the phases even");
  verdict.notes = check::circuit_notes(site, counted, "charges on one phase");
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<std::size_t> points = check::charge_points(site);
  const auto limit = site.profile.apparent_power("single-phase limit");
  const std::size_t supply = check::supply_of(site);
  if (points.empty() || supply == site::none) return verdicts;
  const bool three = (site.element(supply).conductors & site::lines).count() == 3;
  for (const std::size_t load : points)
    verdicts.push_back(limit && three ? judge_point(site, load, *limit)
                                      : not_relevant(site.about(load)));
  const bool one_by_one = std::ranges::any_of(
      verdicts, [](const Verdict& verdict) { return verdict.outcome == Outcome::broken; });
  const auto difference = site.profile.apparent_power("phase difference limit");
  if (difference && three && !one_by_one)
    verdicts.push_back(judge_together(site, points, supply, *difference));
  return verdicts;
}

}  // namespace

extern const check::Rule phase_limit{
    .id = "ev/phase-limit",
    .severity = Severity::breach,
    .must_hold =
        "Single-phase charging on a three-phase connection stays within the country's limit, or "
        "limits its unbalance by itself.",
    .why = "Unbalance lifts the neutral and the voltage of the other phases, also next door.",
    .clauses = {"VDE-AR-N 4100"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"single-phase limit", "phase difference limit"},
    .example = R"(# 7.4 kW on one of three phases.
profile: DE
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Car, device: C40 1P+N 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, load: 7.4 kW, phase: L1,
         charging: {points: 1, limits unbalance: no}}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
